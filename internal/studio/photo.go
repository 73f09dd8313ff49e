package studio

import (
	"strings"
	"time"

	"vatside/internal/fault"
)

// KindPhoto is a photo taken of a making.
const KindPhoto Kind = "photo"

// Photo is a photo of a making. The file itself lies beside the studio's file,
// under its hash.
type Photo struct {
	Hash    string `json:"hash"`   // SHA-256 of the file, in hex
	Format  string `json:"format"` // JPEG, PNG, WebP, TIFF, HEIC
	Width   int    `json:"width"`  // upright, in pixels
	Height  int    `json:"height"`
	Caption string `json:"caption,omitempty"`
}

// PhotoSeen is a photo with its time and the entry that tells of it.
type PhotoSeen struct {
	Photo
	Event string
	At    time.Time
}

// Kind returns KindPhoto.
func (Photo) Kind() Kind { return KindPhoto }

// mostPixels is the longest side of a photo, in pixels; ours: what JPEG can say.
const mostPixels = 65535

func (b Photo) check(f *fault.List) {
	if len(b.Hash) != 64 || strings.Trim(b.Hash, "0123456789abcdef") != "" {
		f.Add(fault.Invalid("hash", "the hash is 64 digits from 0 to f"))
	}
	if strings.TrimSpace(b.Format) == "" {
		f.Add(fault.Invalid("format", "say which format the photo is in"))
	}
	checkText(f, "format", b.Format, shortText)
	checkInt(f, "width", b.Width, 1, mostPixels, "pixels")
	checkInt(f, "height", b.Height, 1, mostPixels, "pixels")
	checkText(f, "caption", b.Caption, shortText)
}
