// Package cli is the program as a shell sees it: one command to a file, its
// help beside its flags, and the exit code that its outcome leaves with.
//
// A computation reads one JSON request and prints one JSON answer or a table;
// nothing else is written to standard output. A failure is one plain line on
// standard error. Kinds of fault become exit codes here and nowhere else.
// What the commands promise to scripts stands in docs/commands.md. Missing:
// commands for single records, which pages keep.
package cli

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"vatside/internal/fault"
)

// Exit codes.
const (
	Done       = 0
	Failed     = 1 // it could not be done here and now
	Wrong      = 2 // the request or the command line is wrong
	Infeasible = 3 // asked rightly, but it cannot be done at all
)

// Program is what a command needs from the world.
type Program struct {
	In       io.Reader
	Out, Err io.Writer
	Version  string
	Now      func() time.Time
	Browse   func(url string) error // opens a browser; an error is passed over
}

// root is the command line.
type root struct {
	Serve   serveCmd   `cmd:"" default:"withargs" help:"Start the program and open it in the browser. This is what happens without a command."`
	Demo    demoCmd    `cmd:"" help:"Start a filled demo studio in a temporary folder, removed at the end."`
	Plan    planCmd    `cmd:"" help:"From a brief to everything needed to make it."`
	Vat     vatCmd     `cmd:"" help:"What a vat does, sheet by sheet."`
	Cook    cookCmd    `cmd:"" help:"Fibre, alkali, liquor: what to weigh, how it is cooked and rinsed."`
	Convert convertCmd `cmd:"" help:"A quantity in another unit: pounds of a basis, spoons, wet pulp."`
	Backup  backupCmd  `cmd:"" help:"Copy the studio into one file, while the program runs or not."`
	Restore restoreCmd `cmd:"" help:"Put a copy in the place of the studio, which is copied first."`
	Import  importCmd  `cmd:"" help:"Take records in from a spreadsheet, or a whole studio from a folder."`
	Export  exportCmd  `cmd:"" help:"Write the whole studio into a folder: tables, a spreadsheet, photos."`
	Version versionCmd `cmd:"" help:"Print the version."`
}

const about = `For a person who makes paper by hand: from a wish to quantities, a making card, a record, and the studio's own numbers.

Exit codes: 0 done, 1 failed, 2 the request is wrong, 3 it cannot be done.`

// Run runs one command and returns its exit code. It ends early when ctx does.
func (p *Program) Run(ctx context.Context, args []string) int {
	left := -1 // set when help was printed
	parser, err := kong.New(&root{}, kong.Name("vatside"), kong.Description(about), kong.UsageOnError(),
		kong.Writers(p.Out, p.Err), kong.Exit(func(code int) { left = code }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}), kong.Vars{"listen": usualListen, "data": usualFolder()},
		kong.Bind(p), kong.BindTo(ctx, (*context.Context)(nil)))
	if err != nil {
		return p.fail(err)
	}
	cmd, err := parser.Parse(args)
	if left >= 0 {
		return left
	}
	if err != nil {
		return p.fail(fault.Invalid("", "%s; vatside --help lists what there is", err.Error()))
	}
	if err := cmd.Run(); err != nil {
		return p.fail(err)
	}
	return Done
}

// fail prints the one line of a failure, all its faults in it, and returns its
// exit code.
func (p *Program) fail(err error) int {
	var said []string
	for _, f := range fault.All(err) {
		said = append(said, strings.TrimRight(oneLine(f.Error()), ". "))
	}
	line := strings.Join(said, "; ")
	if !strings.HasSuffix(line, "?") {
		line += "."
	}
	fmt.Fprintln(p.Err, line)
	return exitCode(err)
}

// exitCode maps kinds of fault: what the asker must change first.
func exitCode(err error) int {
	code := Failed
	for _, f := range fault.All(err) {
		switch f.Kind {
		case fault.KindInvalid, fault.KindOutOfRange:
			return Wrong
		case fault.KindInfeasible:
			code = Infeasible
		}
	}
	return code
}

// oneLine makes one line of a message, whatever a request put into it.
func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, s)
}

// versionCmd prints the version.
type versionCmd struct{}

// Run prints it.
func (versionCmd) Run(p *Program) error {
	return print(p.Out, fmt.Appendln(nil, "vatside", p.Version))
}
