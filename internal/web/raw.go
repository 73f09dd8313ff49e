package web

import (
	"vatside/internal/web/page"
	"vatside/internal/web/page/cook"
)

// raw are the addresses of raw fibre.
func raw(on func(pattern string, h page.Handler), frame *page.Frame, c Config) {
	cooks := cook.New(frame, c.Studio, c.Cooks, c.Now)
	on("GET /cooks", cooks.List)
	on("POST /cooks", cooks.Start)
	on("GET /cooks/new", cooks.New)
	on("GET /cooks/{id}", cooks.Show)
	on("GET /cooks/{id}/card.pdf", cooks.PDF)
	on("POST /cooks/{id}/entries", cooks.Append)
	on("POST /cooks/{id}/end", cooks.End)
	on("GET /studio/help", cooks.Help)
	on("POST /studio/help", cooks.SaveHelp)
}
