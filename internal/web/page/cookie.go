package page

import (
	"encoding/base64"
	"net/http"
	"strings"

	"vatside/internal/measure"
)

const (
	unitsCookie = "units"
	flashCookie = "flash"
	keepUnits   = 400 * 24 * 3600 // s, the longest a browser keeps a cookie (RFC 6265bis)
	longFlash   = 600             // characters
)

// SetUnits keeps how this reader wants quantities said: on this device, beside
// the studio's own setting.
func SetUnits(w http.ResponseWriter, sys measure.System) {
	setCookie(w, unitsCookie, string(sys), keepUnits)
}

// system is the reader's own choice, else the studio's, and before the first
// evening what the browser's language suggests.
func system(r *http.Request, set Setting) measure.System {
	if c, err := r.Cookie(unitsCookie); err == nil {
		return ReadSystem(c.Value)
	}
	if !set.New {
		return set.System
	}
	first, _, _ := strings.Cut(r.Header.Get("Accept-Language"), ",")
	if strings.HasPrefix(strings.ToLower(first), "en-us") {
		return measure.US
	}
	return measure.Metric
}

// ReadSystem reads the word for a system of units; what is no such word is
// metric.
func ReadSystem(word string) measure.System {
	if measure.System(word) == measure.US {
		return measure.US
	}
	return measure.Metric
}

// PutFlash leaves one sentence for the next page.
func PutFlash(w http.ResponseWriter, text string) {
	if r := []rune(text); len(r) > longFlash {
		text = string(r[:longFlash])
	}
	setCookie(w, flashCookie, base64.RawURLEncoding.EncodeToString([]byte(text)), 60)
}

func takeFlash(w http.ResponseWriter, r *http.Request) string {
	c, err := r.Cookie(flashCookie)
	if err != nil || c.Value == "" {
		return ""
	}
	setCookie(w, flashCookie, "", -1)
	text, err := base64.RawURLEncoding.DecodeString(c.Value)
	if err != nil {
		return ""
	}
	return string(text)
}

func setCookie(w http.ResponseWriter, name, value string, age int) {
	http.SetCookie(w, &http.Cookie{
		Name: name, Value: value, Path: "/", MaxAge: age,
		HttpOnly: true, SameSite: http.SameSiteStrictMode,
	})
}

// LocalPath returns to when it is an address within the program, else the
// bench.
func LocalPath(to string) string {
	if !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.ContainsAny(to, "\\\r\n\t") {
		return "/"
	}
	return to
}
