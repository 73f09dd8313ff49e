package web

import (
	"io"
	"log/slog"
	"net"
	"net/http"
	"slices"
	"strings"
	"time"
)

// mostBody is the longest body a form may have: a megabyte, far above the
// longest card typed back; files have their own limit where they are taken.
const mostBody = 1 << 20

// secure sets what a browser must be told with every answer. No script and no
// style stands in a page itself, so none needs to be allowed there.
func secure(next http.Handler) http.Handler {
	const policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data: blob:; " +
		"connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'; manifest-src 'self'"
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		// Not no-referrer: with it a form on a plain-http name of the studio's
		// network sends the origin "null" and could not be told from a foreign one.
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(self), geolocation=(), microphone=(), payment=()")
		next.ServeHTTP(w, r)
	})
}

// hosts answers only to the names this program is reached by. A foreign page
// that points its own name at this machine sends that name, and gets nothing.
func hosts(allowed []string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !slices.Contains(allowed, strings.ToLower(r.Host)) {
			http.Error(w, "This is a papermaker's own program and answers only at its own address, such as http://"+allowed[0]+"/.",
				http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// hostNames lists what a browser on this machine may call an address, and any
// further names given.
func hostNames(listen string, more []string) []string {
	_, port, err := net.SplitHostPort(listen)
	if err != nil {
		port = "80"
	}
	var names []string
	for _, host := range append([]string{"localhost", "127.0.0.1", "[::1]"}, more...) {
		names = append(names, strings.ToLower(host)+":"+port)
		if port == "80" {
			names = append(names, strings.ToLower(host))
		}
	}
	return names
}

// logged writes one line for each request: what was asked by route, not by
// address, so that no name or code of a person's stands in the log.
func logged(log *slog.Logger, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := time.Now()
		seen := &watcher{ResponseWriter: w, code: http.StatusOK}
		defer func() { // also of what is broken off
			log.LogAttrs(r.Context(), slog.LevelInfo, "request",
				slog.String("route", r.Pattern), slog.String("method", r.Method),
				slog.Int("status", seen.code), slog.Int64("bytes", seen.bytes), slog.Duration("took", time.Since(start)))
		}()
		next.ServeHTTP(seen, r)
	})
}

// watcher sees what was answered.
type watcher struct {
	http.ResponseWriter
	code  int
	bytes int64
}

func (w *watcher) WriteHeader(code int) {
	w.code = code
	w.ResponseWriter.WriteHeader(code)
}

func (w *watcher) Write(b []byte) (int, error) {
	n, err := w.ResponseWriter.Write(b)
	w.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController reach what is below, as streams need.
func (w *watcher) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// discard is the logger of a server that was given none.
func discard() *slog.Logger { return slog.New(slog.NewTextHandler(io.Discard, nil)) }
