package cli

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"time"

	"github.com/gofrs/flock"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/keeping"
	"vatside/internal/plan"
	"vatside/internal/store"
	"vatside/internal/studio"
)

// Names within the folder of a studio.
const (
	studioFile  = "studio.vatside"
	photoFolder = "studio.vatside.photos" // beside the file, each photo under its hash
	lockFile    = "studio.lock"           // held while a program serves the folder
)

// usualFolder is where the studio is kept unless told otherwise.
func usualFolder() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "vatside" // no home: beside whoever starts it
	}
	return filepath.Join(dir, "vatside")
}

// hold makes the folder, if it is not there, and keeps others from serving it.
// Release lets go. Faults: Busy, Storage.
func hold(dir string) (release func(), err error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fault.Storage(err, "The folder %s cannot be made: %v.", dir, reason(err))
	}
	lock := flock.New(filepath.Join(dir, lockFile), flock.SetPermissions(0o600))
	switch got, err := lock.TryLock(); {
	case err != nil:
		return nil, fault.Storage(err, "The folder %s cannot be used: %v.", dir, reason(err))
	case !got:
		return nil, fault.Busy("Another Vatside is open on %s: use that one, or close it first.", dir)
	}
	return func() { lock.Unlock() }, nil //nolint:errcheck // the end of the program lets go too
}

// present opens the studio of a folder that must hold one.
func present(ctx context.Context, dir string) (*store.Store, error) {
	file := filepath.Join(dir, studioFile)
	if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
		return nil, fault.Invalid("--data", "There is no studio in %s: name the folder that holds %s.", dir, studioFile)
	}
	return store.Open(ctx, file)
}

// keeper keeps the copies of the studio in a folder.
func keeper(file keeping.File, dir string, now func() time.Time) *keeping.Keeper {
	look := func(ctx context.Context, path string) (keeping.Inside, error) {
		g, err := store.Look(ctx, path)
		return keeping.Inside{Papers: g.Papers, Makings: g.Makings, Last: g.Last}, err
	}
	return keeping.New(file, look, filepath.Join(dir, photoFolder), now)
}

// service is the use cases on a studio's file.
func service(file *store.Store, p *Program) *studio.Service {
	return studio.New(file.Records(), p.Now)
}

// fromRecords fills what a request leaves open from the studio in a folder,
// and returns what the studio knows.
func fromRecords(ctx context.Context, p *Program, dir string, req *plan.Request) (belief.Known, error) {
	file, err := present(ctx, dir)
	if err != nil {
		return belief.Known{}, err
	}
	defer file.Close() //nolint:errcheck // it is only read
	s := service(file, p)
	profile, err := s.Profile(ctx)
	if err != nil {
		return belief.Known{}, err
	}
	fill(&req.Studio, profile.Kit)
	return s.Known(ctx)
}

// fill takes from the studio's equipment what the request does not say.
func fill(said *plan.Studio, kit plan.Studio) {
	to, from := reflect.ValueOf(said).Elem(), reflect.ValueOf(kit)
	for i := range to.NumField() {
		if to.Field(i).IsZero() {
			to.Field(i).Set(from.Field(i))
		}
	}
}
