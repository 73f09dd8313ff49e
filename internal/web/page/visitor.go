package page

import (
	"context"
	"net/http"
)

// Visitor is who asks from the network rather than at the studio's own
// machine; without an id it is nobody who is known yet.
type Visitor struct {
	ID, Name string
}

type visitorKey struct{}

// Visit notes the visitor of a request.
func Visit(r *http.Request, v Visitor) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), visitorKey{}, v))
}

// VisitorOf returns the visitor; false at the studio's own machine.
func VisitorOf(r *http.Request) (Visitor, bool) {
	v, ok := r.Context().Value(visitorKey{}).(Visitor)
	return v, ok
}

// The cookies that hold a device's key. The one of https is never sent over
// http, and none can be set in its place there (RFC 6265bis, 4.1.3.2).
const (
	deviceCookie       = "device"
	secureDeviceCookie = "__Host-device"
	keepDevice         = 365 * 24 * 3600 // s
)

// DeviceKeys returns the keys a request carries, that of https first.
func DeviceKeys(r *http.Request) []string {
	var keys []string
	for _, name := range []string{secureDeviceCookie, deviceCookie} {
		if c, err := r.Cookie(name); err == nil && c.Value != "" && (name == deviceCookie || r.TLS != nil) {
			keys = append(keys, c.Value)
		}
	}
	return keys
}

// SetDeviceKey leaves a key with the device for a year; an empty one takes it
// away.
func SetDeviceKey(w http.ResponseWriter, r *http.Request, key string) {
	c := &http.Cookie{Name: deviceCookie, Value: key, Path: "/", MaxAge: keepDevice, HttpOnly: true, SameSite: http.SameSiteStrictMode}
	if r.TLS != nil {
		c.Name, c.Secure = secureDeviceCookie, true
	}
	if key == "" {
		c.MaxAge = -1
	}
	http.SetCookie(w, c)
}
