package intake

import (
	"archive/zip"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"

	"vatside/internal/fault"
	"vatside/internal/intake"
	"vatside/internal/web/page"
)

// HandOut sends everything the studio holds as one folder, packed.
func (p *Page) HandOut(w http.ResponseWriter, r *http.Request) error {
	dir, err := os.MkdirTemp("", "vatside-out-")
	if err != nil {
		return fault.Storage(err, "there is no room to gather the studio in")
	}
	defer os.RemoveAll(dir) //nolint:errcheck // the system clears it too
	tables := filepath.Join(dir, "tables")
	if err := intake.Export(r.Context(), p.studio, tables); err != nil {
		return err
	}
	name := "vatside-" + p.now().Format("2006-01-02")
	return page.Download(w, name+".zip", func(out io.Writer) error {
		z := zip.NewWriter(out)
		if err := pack(z, tables, name, zip.Deflate); err != nil {
			return err
		}
		if p.photos != "" {
			if err := pack(z, p.photos, name+"/photos", zip.Store); err != nil {
				return err
			}
		}
		return z.Close()
	})
}

// pack adds the files of a folder; one that is not there is empty.
func pack(z *zip.Writer, dir, as string, method uint16) error {
	if _, err := os.Stat(dir); err != nil {
		return nil
	}
	folder := os.DirFS(dir)
	return fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		data, err := fs.ReadFile(folder, name)
		if err != nil {
			return err
		}
		out, err := z.CreateHeader(&zip.FileHeader{Name: as + "/" + name, Method: method})
		if err == nil {
			_, err = out.Write(data)
		}
		return err
	})
}
