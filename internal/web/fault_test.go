package web

import (
	"bytes"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"vatside/internal/fault"
)

func TestStatusOfEveryKind(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		err  error
		want int
	}{
		{fault.Invalid("f", "x"), 422}, {fault.OutOfRange("f", "x"), 422}, {fault.Infeasible("f", "x"), 422},
		{fault.NotFound("x"), 404}, {fault.Conflict("x"), 409}, {fault.Busy("x"), 503},
		{fault.Storage(errors.New("disk"), "x"), 500}, {errors.New("x"), 500},
		{fmt.Errorf("outer: %w", fault.NotFound("x")), 404}, {&http.MaxBytesError{Limit: 1}, 413},
	} {
		if got := status(c.err); got != c.want {
			t.Errorf("%v: status %d, want %d", c.err, got, c.want)
		}
		if headline(c.want) == "" {
			t.Errorf("status %d has no headline", c.want)
		}
	}
}

// One line for each request, by route: no address with an id or a name in it.
func TestLogLine(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	mux := http.NewServeMux()
	mux.HandleFunc("GET /people/{name}", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusTeapot) })
	h := logged(slog.New(slog.NewTextHandler(&out, nil)), mux)
	h.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", "/people/somebody?contact=secret", nil))
	line := out.String()
	if strings.Count(line, "\n") != 1 || !strings.Contains(line, "status=418") || !strings.Contains(line, `route="GET /people/{name}"`) {
		t.Errorf("log: %s", line)
	}
	if strings.Contains(line, "somebody") || strings.Contains(line, "secret") {
		t.Errorf("the log tells of a person: %s", line)
	}
}
