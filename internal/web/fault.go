package web

import (
	"errors"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/web/page"
)

// status is the one place where kinds of fault become statuses of HTTP.
func status(err error) int {
	var tooBig *http.MaxBytesError
	if errors.As(err, &tooBig) {
		return http.StatusRequestEntityTooLarge
	}
	if fault.Refused(err) {
		return http.StatusUnprocessableEntity
	}
	switch fault.KindOf(err) {
	case fault.KindNotFound:
		return http.StatusNotFound
	case fault.KindConflict:
		return http.StatusConflict
	case fault.KindBusy:
		return http.StatusServiceUnavailable
	default:
		return http.StatusInternalServerError
	}
}

// headline says what happened, above the fault's own sentence.
func headline(code int) string {
	switch code {
	case http.StatusUnprocessableEntity:
		return "That cannot be done as asked"
	case http.StatusNotFound:
		return "Not here"
	case http.StatusConflict:
		return "Changed in between"
	case http.StatusServiceUnavailable:
		return "Busy for a moment"
	case http.StatusRequestEntityTooLarge:
		return "Too much at once"
	default:
		return "Something went wrong in the program"
	}
}

// faultPage is what is shown when a request was not answered.
type faultPage struct {
	page.Base
	Headline string
	Text     string
}

// showFault answers with the fault's sentence; what is a defect of ours is not
// explained to the reader but logged.
func (s *Server) showFault(w http.ResponseWriter, r *http.Request, err error) {
	var cut *page.CutOff
	if errors.As(err, &cut) {
		if !cut.Gone {
			s.log.ErrorContext(r.Context(), "download", "route", r.Pattern, "error", err.Error())
		}
		panic(http.ErrAbortHandler) // breaks the connection off
	}
	code := status(err)
	text := "Nothing of your records is lost. Go back and try once more; if it happens again, the log tells why."
	switch code {
	case http.StatusInternalServerError:
		s.log.ErrorContext(r.Context(), "defect", "route", r.Pattern, "error", err.Error())
	case http.StatusRequestEntityTooLarge:
		text = "This is more than the program takes in one form. Go back and send it in parts."
	default:
		text = page.Sentence(err)
	}
	base, baseErr := s.frame.Base(w, r, headline(code), page.Place{})
	if baseErr != nil {
		http.Error(w, "The studio's file could not be read. "+text, http.StatusInternalServerError)
		return
	}
	if code == http.StatusServiceUnavailable {
		w.Header().Set("Retry-After", "2")
	}
	if err := faultTemplate.Write(w, code, faultPage{Base: base, Headline: headline(code), Text: text}); err != nil {
		http.Error(w, text, code)
	}
}
