package cli

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"

	"vatside/internal/ask"
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// computation is what every command that computes is asked with.
type computation struct {
	Request string `arg:"" optional:"" placeholder:"REQUEST.json" help:"File with one JSON request; - reads it from standard input."`
	JSON    bool   `name:"json" help:"Print the answer as one JSON object and nothing else."`
	Schema  bool   `help:"Print the JSON Schema of request and answer instead."`
	Units   string `enum:"metric,us" default:"metric" help:"Units of the table: metric or us. JSON is always metric."`
}

// read returns the text of the request.
func (c computation) read(p *Program) ([]byte, error) {
	in := p.In
	switch c.Request {
	case "":
		return nil, fault.Invalid("", "There is no request: name a file with one, or - for standard input; --schema says what belongs in it.")
	case "-":
	default:
		f, err := os.Open(c.Request)
		if err != nil {
			return nil, fault.Storage(err, "The request %s cannot be read: %v.", c.Request, reason(err))
		}
		defer f.Close() //nolint:errcheck // it is only read
		in = f
	}
	text, err := io.ReadAll(io.LimitReader(in, ask.Most+1))
	if err != nil {
		return nil, fault.Storage(err, "The request cannot be read: %v.", reason(err))
	}
	return text, nil
}

// system is the measure system of the table.
func (c computation) system() measure.System {
	if c.Units == "us" {
		return measure.US
	}
	return measure.Metric
}

// printJSON writes a value as one line of JSON. It is written whole or not at
// all.
func printJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return &fault.Error{Kind: fault.KindInternal, Text: "The answer cannot be written as JSON.", Err: err}
	}
	return print(w, b.Bytes())
}

func print(w io.Writer, b []byte) error {
	if _, err := w.Write(b); err != nil {
		return fault.Storage(err, "The answer cannot be printed: %v.", reason(err))
	}
	return nil
}

// reason is what the system says of a file or an address, without the path or
// the call that it repeats.
func reason(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	var call *os.SyscallError
	if errors.As(err, &call) {
		err = call.Err
	}
	return err
}
