package asset

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"vatside/internal/typeface"
)

// namespace keeps the bundler from looking for files on the disk.
const namespace = "vatside"

// fontFolder is how styles name the typeface: url("font/<file>").
const fontFolder = "font/"

// build bundles the entries found in files. Nothing is read from or written to
// the disk.
func build(files fs.FS, entries []string) (bundle, error) {
	result := api.Build(api.BuildOptions{
		EntryPoints:       entries,
		Bundle:            true,
		Format:            api.FormatESModule,
		Target:            api.ES2020, // phones of five years ago still do
		MinifyWhitespace:  true,
		MinifySyntax:      true,
		MinifyIdentifiers: true,
		Charset:           api.CharsetUTF8,
		LegalComments:     api.LegalCommentsInline,
		Outdir:            "out",
		EntryNames:        "[name].[hash]",
		AssetNames:        "[name].[hash]",
		PublicPath:        Prefix,
		LogLevel:          api.LogLevelSilent,
		TsconfigRaw:       `{"compilerOptions": {"strict": true, "target": "es2020"}}`,
		Plugins:           []api.Plugin{embedded(files)},
	})
	if len(result.Errors) > 0 {
		return bundle{}, joined(result.Errors)
	}
	if len(result.Warnings) > 0 {
		return bundle{}, joined(result.Warnings)
	}
	return collect(result.OutputFiles), nil
}

// joined makes one error of the bundler's messages. A warning counts as one:
// we write these files, so there is nobody else to put it right.
func joined(messages []api.Message) error {
	var errs []error
	for _, m := range messages {
		where := ""
		if m.Location != nil {
			where = fmt.Sprintf("%s:%d: ", m.Location.File, m.Location.Line)
		}
		errs = append(errs, errors.New(where+m.Text))
	}
	return errors.Join(errs...)
}

// embedded resolves every import inside files, and the typeface beside them.
func embedded(files fs.FS) api.Plugin {
	return api.Plugin{Name: "embedded", Setup: func(b api.PluginBuild) {
		b.OnResolve(api.OnResolveOptions{Filter: ".*"}, func(a api.OnResolveArgs) (api.OnResolveResult, error) {
			name, err := resolve(files, a)
			return api.OnResolveResult{Path: name, Namespace: namespace}, err
		})
		b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: namespace}, func(a api.OnLoadArgs) (api.OnLoadResult, error) {
			return load(files, a.Path)
		})
	}}
}

// resolve finds what an import means: a font, an entry, or a path relative to
// the file that imports it, with or without its ending.
func resolve(files fs.FS, a api.OnResolveArgs) (string, error) {
	if strings.HasPrefix(a.Path, fontFolder) && a.Kind == api.ResolveCSSURLToken {
		return a.Path, nil
	}
	name := path.Clean(a.Path)
	if a.Kind != api.ResolveEntryPoint {
		name = path.Join(path.Dir(a.Importer), a.Path)
	}
	for _, try := range []string{name, name + ".ts", name + ".css"} {
		if info, err := fs.Stat(files, try); err == nil && !info.IsDir() {
			return try, nil
		}
	}
	return "", fmt.Errorf("%q is not among the scripts and styles of the program", a.Path)
}

// load reads a resolved file with the loader its ending asks for.
func load(files fs.FS, name string) (api.OnLoadResult, error) {
	if font, ok := strings.CutPrefix(name, fontFolder); ok {
		content, known := typeface.Files()[font]
		if !known {
			return api.OnLoadResult{}, fmt.Errorf("%q is not a file of the typeface", font)
		}
		text := string(content)
		return api.OnLoadResult{Contents: &text, Loader: api.LoaderFile}, nil
	}
	content, err := fs.ReadFile(files, name)
	if err != nil {
		return api.OnLoadResult{}, err
	}
	text := string(content)
	loader := api.LoaderFile
	switch path.Ext(name) {
	case ".ts":
		loader = api.LoaderTS
	case ".css":
		loader = api.LoaderCSS
	}
	return api.OnLoadResult{Contents: &text, Loader: loader}, nil
}
