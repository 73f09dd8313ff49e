package web

import (
	"net/http"

	"vatside/internal/web/asset"
	"vatside/internal/web/page"
	"vatside/internal/web/page/again"
	"vatside/internal/web/page/bench"
	"vatside/internal/web/page/brief"
	"vatside/internal/web/page/card"
	"vatside/internal/web/page/copies"
	"vatside/internal/web/page/design"
	"vatside/internal/web/page/devices"
	"vatside/internal/web/page/gallery"
	"vatside/internal/web/page/handbook"
	"vatside/internal/web/page/history"
	"vatside/internal/web/page/intake"
	"vatside/internal/web/page/knows"
	"vatside/internal/web/page/labels"
	"vatside/internal/web/page/making"
	"vatside/internal/web/page/ownfibre"
	"vatside/internal/web/page/paper"
	"vatside/internal/web/page/people"
	photopage "vatside/internal/web/page/photo"
	planpage "vatside/internal/web/page/plan"
	"vatside/internal/web/page/record"
	"vatside/internal/web/page/reserve"
	runpage "vatside/internal/web/page/run"
	"vatside/internal/web/page/scrap"
	"vatside/internal/web/page/store"
	studiopage "vatside/internal/web/page/studio"
	"vatside/internal/web/page/sum"
	"vatside/internal/web/page/trouble"
	vatpage "vatside/internal/web/page/vat"
	"vatside/internal/web/page/welcome"
)

// routes is every address of the program.
func (s *Server) routes(c Config) *http.ServeMux {
	mux := http.NewServeMux()
	taking := func(most int64, pattern string, h page.Handler) {
		mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
			r.Body = http.MaxBytesReader(w, r.Body, most)
			if err := h(w, r); err != nil {
				s.showFault(w, r, err)
			}
		})
	}
	on := func(pattern string, h page.Handler) { taking(mostBody, pattern, h) }

	benches := bench.New(s.frame, c.Studio, c.Now)
	on("GET /{$}", benches.Show)

	welcomes := welcome.New(s.frame, c.Studio)
	on("GET /welcome", welcomes.Ask)
	on("POST /welcome", welcomes.Answer)

	briefs := brief.New(s.frame, c.Studio)
	on("GET /briefs/new", briefs.New)
	on("POST /briefs", briefs.Create)
	on("GET /briefs/{id}/edit", briefs.Edit)
	on("POST /briefs/{id}", briefs.Save)
	on("POST /briefs/{id}/settle", briefs.Settle)
	on("GET /pail", briefs.Pail)

	plans := planpage.New(s.frame, c.Studio)
	on("GET /briefs/{id}", plans.Show)
	on("POST /briefs/{id}/makings", plans.Start)

	sums := sum.New(s.frame, c.Studio)
	on("GET /briefs/{id}/sums/{figure}", sums.Show)

	cards := card.New(s.frame, c.Studio)
	on("GET /makings/{id}/card.pdf", cards.PDF)

	makings := making.New(s.frame, c.Studio, c.Photos, c.Now)
	on("GET /makings", makings.List)
	taking(making.MostPicture, "POST /makings/code", makings.Code)
	on("GET /makings/{id}", makings.Show)
	on("POST /makings/{id}/keep", makings.Keep)
	on("GET /makings/{id}/beating", makings.Beating)
	on("POST /makings/{id}/beating", makings.AddReading)
	on("GET /makings/{id}/run", runpage.New(s.frame, c.Studio).Show)
	on("GET /makings/{id}/trouble", trouble.New(s.frame, c.Studio).Show)

	carried(on, taking, s.frame, c)
	s.atVat(mux, on, c)

	records := record.New(s.frame, c.Studio, c.Now)
	on("GET /makings/{id}/record", records.Show)
	on("POST /makings/{id}/record", records.Save)

	made(on, s.frame, c)
	rooms(on, s.frame, c)
	if c.Network != nil {
		s.joining(on, taking, c)
	}
	on("POST /units", units)
	mux.Handle("GET "+asset.Prefix, asset.Handler())
	if c.Gallery {
		on("GET /gallery", gallery.New(s.frame).Show)
	}
	on("/", missing)
	return mux
}

// carried are the addresses that take and give files.
func carried(on func(pattern string, h page.Handler), taking func(most int64, pattern string, h page.Handler), frame *page.Frame, c Config) {
	photos := photopage.New(frame, c.Studio, c.Photos, c.Now)
	on("GET /makings/{id}/photos", photos.Show)
	taking(photopage.MostBody, "POST /makings/{id}/photos", photos.Add)
	on("POST /makings/{id}/photos/change", photos.Change)
	on("GET /photos/{hash}", photos.File)
	on("GET /photos/{hash}/small", photos.Small)

	sheets := intake.New(frame, c.Studio, c.Now, photoDir(c))
	on("GET /intake", sheets.Start)
	on("GET /intake/studio.zip", sheets.HandOut)
	taking(intake.MostBody, "POST /intake", sheets.Take)
	taking(intake.MostWhole, "POST /intake/whole", sheets.TakeWhole)
	on("GET /intake/{id}", sheets.Look)
	on("POST /intake/{id}", sheets.Match)
	on("POST /intake/{id}/write", sheets.Write)
	on("POST /intake/{id}/undo", sheets.Undo)

	kept := copies.New(frame, c.Copies, c.Now)
	on("GET /copies", kept.List)
	on("POST /copies", kept.Make)
	on("GET /copies/now", kept.Now)
	on("GET /copies/{name}", kept.Show)
	on("GET /copies/{name}/file", kept.File)
	on("POST /copies/{name}/restore", kept.Restore)
	taking(copies.MostBody, "POST /copies/file", kept.Receive)
}

// joining are the addresses at which other devices are let in and shut out.
func (s *Server) joining(on func(pattern string, h page.Handler), taking func(most int64, pattern string, h page.Handler), c Config) {
	joined := devices.New(s.frame, c.Devices, c.Network, c.Now)
	s.pairing = joined.Stranger
	on("GET /studio/devices", joined.Show)
	on("GET /studio/devices/trust", joined.Trust)
	on("POST /studio/devices/switch", joined.Switch)
	on("POST /studio/devices/offer", joined.Offer)
	on("POST /studio/devices/revoke", joined.RevokeAll)
	on("POST /studio/devices/{id}/revoke", joined.Revoke)
	on("GET /authority.crt", tellsNothing(joined.Certificate))
	on("GET /pair", tellsNothing(joined.Ask))
	taking(mostPairing, "POST /pair", tellsNothing(joined.Join))
	on("POST /pair/leave", joined.Leave)
}

// atVat are the addresses of the live page of a run.
func (s *Server) atVat(mux *http.ServeMux, on func(pattern string, h page.Handler), c Config) {
	s.live = vatpage.New(s.frame, c.Studio, c.Now)
	c.Studio.Told = s.live.Heard
	on("GET /makings/{id}/vat", s.live.Show)
	on("GET /makings/{id}/vat/view", s.live.View)
	on("GET /makings/{id}/vat/stream", s.live.Stream)
	on("POST /makings/{id}/vat/events", s.live.Take)
	mux.Handle("GET /vat-worker.js", asset.Plain("worker.js"))
}

// made are the addresses of what follows from a making.
func made(on func(pattern string, h page.Handler), frame *page.Frame, c Config) {
	slips := labels.New(frame, c.Studio, c.Now)
	on("GET /makings/{id}/labels", slips.Show)
	on("GET /makings/{id}/labels.pdf", slips.PDF)
	on("GET /labels", slips.Several)
	on("GET /labels.pdf", slips.SeveralPDF)

	histories := history.New(frame, c.Studio, c.Now)
	on("GET /papers/{id}/makings", histories.Show)
	on("GET /makings/compare", histories.Compare)

	agains := again.New(frame, c.Studio, c.Now)
	on("GET /makings/{id}/again", agains.Show)
	on("POST /makings/{id}/again", agains.Create)
}

// photoDir is where the photos lie; "" where none are kept.
func photoDir(c Config) string {
	if c.Photos == nil {
		return ""
	}
	return c.Photos.Dir()
}

// rooms are the addresses of what is kept besides briefs and makings.
func rooms(on func(pattern string, h page.Handler), frame *page.Frame, c Config) {
	raw(on, frame, c)
	papers := paper.New(frame, c.Studio, c.Now)
	on("GET /papers", papers.List)
	on("POST /papers", papers.Create)
	on("GET /papers/new", papers.New)
	on("GET /papers/{id}", papers.Show)
	on("GET /papers/{id}/edit", papers.Edit)
	on("POST /papers/{id}", papers.Save)

	designs := design.New(frame, c.Studio)
	on("GET /papers/design", designs.Start)
	on("POST /papers/design", designs.Create)
	on("GET /papers/compare", designs.Compare)
	on("GET /papers/{id}/design", designs.Show)
	on("GET /papers/{id}/reserve", reserve.New(frame, c.Studio).Show)
	on("POST /papers/{id}/design", designs.Keep)

	stores := store.New(frame, c.Studio, c.Now)
	on("GET /store", stores.List)
	on("POST /store", stores.Create)
	on("GET /store/new", stores.New)
	on("GET /store/{id}", stores.Show)
	on("POST /store/{id}", stores.Save)
	on("POST /store/{id}/amount", stores.Amount)

	studios := studiopage.New(frame, c.Studio)
	on("GET /studio", studios.Show)
	on("POST /studio", studios.Save)

	fibres := ownfibre.New(frame, c.Studio)
	on("GET /studio/fibres/new", fibres.New)
	on("POST /studio/fibres", fibres.Create)
	on("GET /studio/fibres/{name}", fibres.Show)
	on("POST /studio/fibres/{name}", fibres.Save)
	on("POST /studio/fibres/{name}/remove", fibres.Remove)

	persons := people.New(frame, c.Studio)
	on("GET /people", persons.Show)
	on("POST /people/{id}/erase", persons.Erase)

	known := knows.New(frame, c.Studio)
	on("GET /knows", known.Show)
	on("POST /knows/fix", known.Fix)
	on("POST /knows/free", known.Free)
	on("POST /knows/leave", known.Leave)

	books := handbook.New(frame, c.Studio, c.Cooks)
	on("GET /handbook", books.Index)
	on("GET /handbook/formulas", books.Formulas)
	on("GET /handbook/formulas/{name}", books.Formula)
	on("GET /handbook/sources", books.Sources)
	on("GET /handbook/glossary", books.Glossary)
	on("GET /handbook/faults", books.Faults)
	on("GET /handbook/additives", books.Additives)
	on("GET /handbook/cautions", books.Cautions)
	on("GET /handbook/plants", books.Plants)
	on("GET /handbook/keeping", books.Keeping)
	used := scrap.New(frame)
	on("GET /handbook/rags", used.Rags)
	on("GET /handbook/waste-paper", used.WastePaper)
	on("GET /handbook/units", books.Units)
	on("GET /handbook/papers", books.Papers)
	on("GET /handbook/fibres", books.Fibres)
	on("GET /handbook/fibres/{name}", books.Fibre)
}
