package copies

import (
	"fmt"

	"vatside/internal/keeping"
	"vatside/internal/web/part"
)

func (p *Page) line(c keeping.Copy) Line {
	return Line{Name: c.Name, When: part.Moment(c.At, p.now()), Why: whys[c.Why], Size: size(c.Bytes)}
}

// whys says why a copy was made.
var whys = map[string]string{
	keeping.Daily: "made by itself", keeping.Asked: "asked for",
	keeping.BeforeRestore: "made before going back", keeping.BeforeImport: "made before taking in a file",
}

func size(bytes int64) string {
	if bytes < 1e6 {
		return fmt.Sprintf("%d\u00a0kB", (bytes+999)/1000)
	}
	return fmt.Sprintf("%.1f\u00a0MB", float64(bytes)/1e6)
}
