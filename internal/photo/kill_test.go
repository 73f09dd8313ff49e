//go:build linux || darwin

package photo_test

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"vatside/internal/photo"
	"vatside/internal/plan"
	"vatside/internal/store"
	"vatside/internal/studio"
)

// keeperFile is set for the child that TestKilledBetweenPhotoAndEntry kills.
const keeperFile = "VATSIDE_TEST_PHOTO_FILE"

func TestMain(m *testing.M) {
	if path := os.Getenv(keeperFile); path != "" {
		fmt.Fprintln(os.Stderr, keepUntilKilled(path, os.Getenv(keeperFile+"_MAKING"), os.Getenv(keeperFile+"_ROUND")))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// shade is a photo that no other round sends.
func shade(round string, n int) []byte {
	m := image.NewGray(image.Rect(0, 0, 48, 32))
	for i, b := range sha256.Sum256(fmt.Appendf(nil, "%s/%d", round, n)) {
		m.SetGray(i, 3, color.Gray{b})
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// keepUntilKilled keeps one photo after another, each with its entry, as the
// page does, and prints the hash of each once both are acknowledged.
func keepUntilKilled(path, making, round string) error {
	ctx := context.Background()
	file, err := store.Open(ctx, path)
	if err != nil {
		return err
	}
	u := studio.New(file.Records(), time.Now)
	folder := photo.In(path + ".photos")
	for n := 0; ; n++ {
		k, err := folder.Add(ctx, bytes.NewReader(shade(round, n)))
		if err != nil {
			return err
		}
		e := studio.NewEvent("photo/"+k.Hash[:16], time.Now(), studio.Photo{Hash: k.Hash, Format: k.Format, Width: k.Width, Height: k.Height})
		if _, err := u.Record(ctx, making, e); err != nil {
			return err
		}
		if _, err := os.Stdout.WriteString(k.Hash + "\n"); err != nil {
			return err
		}
	}
}

// A program killed while photos come leaves no entry without its whole file and
// loses none that it acknowledged. A file whose entry was never written does no
// harm: the same photo sent again is found and gets its entry; what was half
// written is swept away a day later.
func TestKilledBetweenPhotoAndEntry(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "studio.vatside")
	making := seeded(t, path)
	told := map[string]bool{}
	alone, rounds := "", 0
	for ; rounds < 60 && (rounds < 12 || alone == ""); rounds++ {
		for _, hash := range killKeeper(t, path, making, fmt.Sprint(rounds)) {
			told[hash] = true
		}
		entries := entriesOf(t, path, making)
		for hash := range told {
			if !entries[hash] {
				t.Errorf("the acknowledged photo %s has no entry", hash)
			}
		}
		if one := whole(t, path+".photos", entries); one != "" {
			alone = one
		}
	}
	t.Logf("%d programs killed, %d photos acknowledged", rounds, len(told))
	if alone == "" || len(told) == 0 {
		t.Fatalf("no kill fell between a photo and its entry; %d acknowledged", len(told))
	}
	again(t, path, making, alone)
}

// seeded makes a studio with one making and returns it.
func seeded(t *testing.T, path string) string {
	t.Helper()
	file, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close() //nolint:errcheck // nothing is written after
	u := studio.New(file.Records(), time.Now)
	sheet := plan.Sheet{LongMM: 420, ShortMM: 297}
	p, err := u.SavePaper(t.Context(), studio.Paper{Name: "box cover", Sheet: sheet,
		Design: plan.Paper{Furnish: []plan.Part{{Fibre: "abaca", SharePct: 100}}, GrammageConditioned: 100}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := u.SaveBrief(t.Context(), studio.Brief{PaperID: p.ID, GoodSheets: 50, Sheet: sheet, ConfidencePct: 90})
	if err != nil {
		t.Fatal(err)
	}
	m, err := u.StartMaking(t.Context(), b.ID, plan.Request{}, plan.Plan{})
	if err != nil {
		t.Fatal(err)
	}
	return m.ID
}

// killKeeper kills a keeper at some moment after its first photo and returns
// what it acknowledged.
func killKeeper(t *testing.T, path, making, round string) (hashes []string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), keeperFile+"="+path, keeperFile+"_MAKING="+making, keeperFile+"_ROUND="+round)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(out)
	read := func() bool {
		line, err := lines.ReadString('\n')
		if err == nil {
			hashes = append(hashes, strings.TrimSpace(line))
		}
		return err == nil
	}
	if !read() {
		t.Fatal("the keeper ended by itself")
	}
	time.Sleep(time.Duration(rand.Int64N(int64(30 * time.Millisecond))))
	cmd.Process.Kill() //nolint:errcheck // it runs until then
	for read() {
	}
	cmd.Wait() //nolint:errcheck // it was killed
	return hashes
}

func entriesOf(t *testing.T, path, making string) map[string]bool {
	t.Helper()
	file, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close() //nolint:errcheck // it was only read
	state, err := studio.New(file.Records(), time.Now).State(t.Context(), making)
	if err != nil {
		t.Fatal(err)
	}
	entries := map[string]bool{}
	for _, p := range state.Photos {
		entries[p.Hash] = true
	}
	return entries
}

// whole checks that every entry has its file, that every file is what its name
// says, and returns one that no entry tells of.
func whole(t *testing.T, dir string, entries map[string]bool) (alone string) {
	t.Helper()
	folder := photo.In(dir)
	for hash := range entries {
		file, _, err := folder.Open(hash)
		if err != nil {
			t.Errorf("an entry tells of %s: %v", hash, err)
			continue
		}
		sum := sha256.New()
		_, err = io.Copy(sum, file)
		file.Close() //nolint:errcheck // it was only read
		if got := hex.EncodeToString(sum.Sum(nil)); err != nil || got != hash {
			t.Errorf("the file of %s holds %s, %v", hash, got, err)
		}
		small, err := folder.OpenSmall(t.Context(), hash)
		if err != nil {
			t.Errorf("the small picture of %s: %v", hash, err)
			continue
		}
		if _, err := jpeg.Decode(small); err != nil {
			t.Errorf("the small picture of %s: %v", hash, err)
		}
		small.Close() //nolint:errcheck // it was only read
	}
	list, err := filepath.Glob(filepath.Join(dir, "*.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range list {
		if hash := strings.TrimSuffix(filepath.Base(name), ".jpg"); !entries[hash] {
			alone = hash
		}
	}
	return alone
}

// again sends the photo without an entry once more, and finds what was half
// written swept away.
func again(t *testing.T, path, making, alone string) {
	t.Helper()
	dir := path + ".photos"
	for i, name := range []string{"arriving-1", "small/arriving-2", "arriving-3"} {
		name = filepath.Join(dir, name)
		old := time.Now().Add(-48 * time.Hour)
		if err := os.WriteFile(name, []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
		if i < 2 {
			if err := os.Chtimes(name, old, old); err != nil {
				t.Fatal(err)
			}
		}
	}
	content, err := os.ReadFile(filepath.Join(dir, alone+".jpg"))
	if err != nil {
		t.Fatal(err)
	}
	before := len(files(t, dir))
	k, err := photo.In(dir).Add(t.Context(), bytes.NewReader(content))
	if err != nil || k.Hash != alone {
		t.Fatalf("sent again: %+v, %v", k, err)
	}
	if now := len(files(t, dir)); now != before-2 {
		t.Errorf("%d files, before %d with two left over", now, before)
	}
	if _, err := os.Stat(filepath.Join(dir, "arriving-3")); err != nil {
		t.Errorf("what may still arrive is taken away: %v", err)
	}
	file, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close() //nolint:errcheck // the folder goes too
	e := studio.NewEvent("photo/again", time.Now(), studio.Photo{Hash: k.Hash, Format: k.Format, Width: k.Width, Height: k.Height})
	if _, err := studio.New(file.Records(), time.Now).Record(t.Context(), making, e); err != nil {
		t.Error(err)
	}
}
