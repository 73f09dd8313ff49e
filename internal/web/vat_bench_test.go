package web_test

import (
	"bufio"
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"vatside/internal/demo"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/testkit/laps"
	"vatside/internal/web"
)

// Twenty devices show one run on loopback; one of them counts a sheet, and a
// round lasts until the last of the others has it. p50 and p95 are of rounds.
func BenchmarkTwentyDevices(b *testing.B) {
	file, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "studio.vatside"))
	if err != nil {
		b.Fatal(err)
	}
	defer file.Close() //nolint:errcheck // the folder goes with it
	if err := demo.Fill(b.Context(), file.Records(), morning); err != nil {
		b.Fatal(err)
	}
	records := studio.New(file.Records(), time.Now)
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = web.New(web.Config{Studio: records, Now: time.Now, Listen: server.Listener.Addr().String()}).Handler()
	server.Start()
	defer server.Close()
	open, err := records.Makings(b.Context(), studio.MakingFilter{Open: true})
	if err != nil || len(open) == 0 {
		b.Fatal("no making is open", err)
	}
	base := server.URL + "/makings/" + open[0].ID + "/vat"
	heard := make(chan string, 1000)
	for range 20 {
		r, err := http.NewRequestWithContext(b.Context(), http.MethodGet, base+"/stream", nil)
		if err != nil {
			b.Fatal(err)
		}
		w, err := http.DefaultClient.Do(r)
		if err != nil {
			b.Fatal(err)
		}
		defer w.Body.Close() //nolint:errcheck // it ends with the test
		lines := bufio.NewReader(w.Body)
		go func() {
			for {
				line, err := lines.ReadString('\n')
				if err != nil {
					return
				}
				if strings.HasPrefix(line, "data: {\"making") {
					heard <- line
				}
			}
		}()
	}
	for range 20 {
		<-heard
	}
	n := 0
	round := func() {
		n++
		id, at := fmt.Sprintf("bench-%06d", n), time.Now().UnixMilli()
		// pulled and kissed off, so that the run grows no longer by being timed
		body := fmt.Sprintf(`{"events":[{"id":"%[1]s","kind":"post","body":{"post":1,"pulled":1,"kissed_off":1},"at":%[2]d}]}`, id, at)
		w, err := http.Post(base+"/events", "application/json", bytes.NewBufferString(body))
		if err != nil || w.StatusCode != http.StatusOK {
			b.Fatal(err, w)
		}
		_ = w.Body.Close()
		for has := 0; has < 20; {
			if strings.Contains(<-heard, `"`+id+`"`) {
				has++
			}
		}
	}
	l := laps.Start()
	for b.Loop() {
		l.Do(round)
	}
	l.Report(b)
}
