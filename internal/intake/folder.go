package intake

import (
	"bytes"
	"context"
	"encoding/csv"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/studio"
)

// Filler takes in a whole studio.
type Filler interface {
	FillTables(ctx context.Context, tables []studio.Table) error
}

// IsFolder reports whether a path is a studio that was handed out.
func IsFolder(dir string) bool {
	info, err := os.Stat(dir)
	return err == nil && info.IsDir()
}

// Import makes an empty studio the one that a folder holds; its photos are in
// PhotoFolder. Faults: Invalid where the folder is none that was handed out;
// Conflict where the studio holds something; Storage.
func Import(ctx context.Context, s Filler, dir string) (rows int, err error) {
	// What a folder links to outside of it is none of its own.
	root, err := os.OpenRoot(dir)
	if err != nil {
		return 0, fault.Storage(err, "the folder %s cannot be read", dir)
	}
	defer root.Close() //nolint:errcheck // it is only read
	names, err := fs.Glob(root.FS(), "*"+tableExt)
	if err != nil {
		return 0, fault.Storage(err, "the folder %s cannot be read", dir)
	}
	var tables []studio.Table
	for _, name := range names {
		t, err := readTable(root.FS(), name)
		if err != nil {
			return 0, err
		}
		tables = append(tables, t)
		rows += len(t.Rows)
	}
	if !slices.ContainsFunc(tables, func(t studio.Table) bool { return t.Name == "making" }) {
		return 0, fault.Invalid("FILE", "%s holds no studio that was handed out: there is no makings.csv in it", dir)
	}
	if err := s.FillTables(ctx, tables); err != nil {
		return 0, err
	}
	return rows, nil
}

func readTable(folder fs.FS, name string) (studio.Table, error) {
	t := studio.Table{Name: tableOf(strings.TrimSuffix(name, tableExt))}
	data, err := fs.ReadFile(folder, name)
	if err != nil {
		return t, fault.Storage(err, "%s cannot be read", name)
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	all, err := r.ReadAll()
	if err != nil {
		return t, fault.Invalid("FILE", "%s cannot be read as a table: %v", name, err)
	}
	if len(all) == 0 {
		return t, fault.Invalid("FILE", "%s has no headings", name)
	}
	t.Columns, t.Rows = all[0], all[1:]
	for _, row := range t.Rows {
		for i, c := range row {
			long, ok := strings.CutPrefix(c, longMark)
			if !ok {
				row[i] = unguardCell(c)
				continue
			}
			text, err := fs.ReadFile(folder, path.Clean(long))
			if err != nil {
				return t, fault.Invalid("FILE", "%s names the file %s, which cannot be read", name, long)
			}
			row[i] = string(text)
		}
	}
	return t, nil
}
