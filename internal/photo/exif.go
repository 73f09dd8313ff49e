package photo

import (
	"io"
	"time"

	"github.com/bep/imagemeta"
)

// slowestMeta ends the reading of a head that leads in circles; ours.
const slowestMeta = 5 * time.Second

var metaFormats = map[string]imagemeta.ImageFormat{
	"JPEG": imagemeta.JPEG, "PNG": imagemeta.PNG, "WebP": imagemeta.WebP, "TIFF": imagemeta.TIFF,
}

// orientation is how the camera was held, as EXIF says it: 1 where nothing is
// said or it cannot be read, for a picture may lie on its side, but not be
// lost for it.
func orientation(fm format, file io.ReadSeeker) int {
	held := 1
	kind, ok := metaFormats[fm.name]
	if !ok || fm.upright {
		return held
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return held
	}
	imagemeta.Decode(imagemeta.Options{ //nolint:errcheck // what was read until the fault holds
		R: file, ImageFormat: kind, Sources: imagemeta.EXIF, Timeout: slowestMeta,
		ShouldHandleTag: func(tag imagemeta.TagInfo) bool { return tag.Tag == "Orientation" && tag.Namespace == "IFD0" },
		HandleTag: func(tag imagemeta.TagInfo) error {
			switch v := tag.Value.(type) {
			case uint16:
				held = int(v)
			case uint32:
				held = int(v)
			case int:
				held = v
			}
			return nil
		},
	})
	if held < 1 || held > 8 {
		return 1
	}
	return held
}
