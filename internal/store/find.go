package store

import (
	"context"
	"database/sql"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"vatside/internal/studio"
)

// farOff is the factor by which a grammage or a thickness may be off before it
// fits no better than any other; ours: sheets of one making differ by a tenth.
const farOff = 1.5

// usualMatches is how many are listed where no limit is given.
const usualMatches = 30

// sought gathers how far a making is off, one column to each thing asked for.
type sought struct {
	names []string
	cols  []string
	args  []any
}

func (q *sought) add(name, col string, args ...any) {
	for _, a := range args {
		q.args = append(q.args, a)
		col = strings.Replace(col, "?", "$"+strconv.Itoa(len(q.args)), 1)
	}
	q.names, q.cols = append(q.names, name), append(q.cols, col)
}

// fits is 0 where a condition holds, else 1.
func fits(cond string) string { return "CASE WHEN " + cond + " THEN 0.0 ELSE 1.0 END" }

// apart is how far a column is from a number, by their ratio.
func apart(column string) string {
	return fmt.Sprintf("coalesce(min(1.0, abs(ln(%s / ?)) / %.6f), 1.0)", column, math.Log(farOff))
}

func seek(w studio.Wanted) sought {
	var q sought
	if words := studio.ColourWords(w.Colour); len(words) > 0 {
		for i := range words {
			words[i] = `"` + words[i] + `"` // whole: "red" is not "reduced"
		}
		q.add(studio.OffColour, fits("g.nth IN (SELECT rowid FROM making_words WHERE making_words MATCH ?)"), strings.Join(words, " OR "))
	}
	if w.Fibre != "" {
		// a studio has few furnishes, and folding a word is not the database's own
		q.add(studio.OffFibre, fits("g.furnish IN (SELECT furnish FROM (SELECT DISTINCT furnish FROM making_progress) WHERE instr(folded(furnish), ?) > 0)"), fold(w.Fibre))
	}
	if w.Use != "" {
		q.add(studio.OffUse, fits("g.use = ?"), w.Use)
	}
	if w.GrammageG > 0 {
		q.add(studio.OffGrammage, apart("g.grammage_conditioned_g_m2"), w.GrammageG)
	}
	if w.CaliperMM > 0 {
		q.add(studio.OffCaliper, apart("g.caliper_mm"), w.CaliperMM)
	}
	if !w.From.IsZero() || !w.To.IsZero() {
		to := w.To
		if to.IsZero() {
			to = time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
		}
		q.add(studio.OffDate, fits("g.begun_at < ? AND coalesce(g.since, g.begun_at) >= ?"), second(to), second(w.From))
	}
	if w.Customer != "" {
		q.add(studio.OffCustomer, fits(`g.making_id IN (SELECT m.id FROM person p JOIN brief b ON b.person_id = p.id JOIN making m ON m.brief_id = b.id
			WHERE instr(folded(p.name), ?) > 0)`), fold(w.Customer))
	}
	for _, word := range w.Words {
		q.add(studio.OffWord+word, fits("g.nth IN (SELECT rowid FROM making_words WHERE making_words MATCH ?)"), beginning(word))
	}
	return q
}

// beginning asks the index for words that begin so, whatever signs are in it.
func beginning(word string) string { return `"` + strings.ReplaceAll(word, `"`, `""`) + `"*` }

// Nearest lists makings by how far they are off in all things asked for
// together, the nearest first, the newest of those alike.
func (t *Tx) Nearest(ctx context.Context, w studio.Wanted) ([]studio.Match, error) {
	q := seek(w)
	if len(q.cols) == 0 {
		return nil, nil
	}
	limit := w.Limit
	if limit <= 0 {
		limit = usualMatches
	}
	var cols, sum []string
	for i, c := range q.cols {
		cols = append(cols, fmt.Sprintf("%s AS off%d", c, i))
		sum = append(sum, fmt.Sprintf("off%d", i))
	}
	total := strings.Join(sum, " + ")
	// Materialized: else the database works a distance out anew wherever it is named.
	return collect(ctx, t, func(rows *sql.Rows) (studio.Match, error) {
		one := studio.Match{Off: map[string]float64{}}
		m, off := &one.Making, make([]float64, len(q.cols))
		into := []any{&m.ID, &m.Tag, &m.BriefID, &m.PaperID, &m.PaperRevision, &m.PaperName, timeColumn{&m.Created},
			&m.Progress.Stage, &m.Progress.Couched, &m.Progress.Good, timeColumn{&m.Progress.Since},
			&m.Progress.Furnish, &m.Progress.Use, &m.Progress.GrammageG, &m.Progress.LongMM, &m.Progress.ShortMM,
			&m.Progress.ShrinkPct, &m.Progress.CaliperMM, &m.Progress.GoodPct, &m.Progress.HandsMin, &one.Total}
		for i := range off {
			into = append(into, &off[i])
		}
		err := rows.Scan(into...)
		for i, name := range q.names {
			one.Off[name] = off[i]
		}
		return one, err
	}, `WITH apart AS MATERIALIZED (SELECT g.nth, g.begun_at, `+strings.Join(cols, ", ")+` FROM making_progress g),
		near AS MATERIALIZED (SELECT *, `+total+` AS total FROM apart
			WHERE `+total+` < `+strconv.Itoa(len(q.cols))+`.0 ORDER BY total, begun_at DESC, nth DESC LIMIT `+strconv.Itoa(limit)+`)
		SELECT m.id, m.tag, m.brief_id, m.paper_id, m.paper_revision, r.name, g.begun_at, g.stage, g.couched, g.good, g.since`+gistColumns+`,
			total, `+strings.Join(sum, ", ")+`
		FROM near n
		JOIN making_progress g ON g.nth = n.nth
		JOIN making m ON m.id = g.making_id
		JOIN paper_revision r ON r.paper_id = m.paper_id AND r.revision = m.paper_revision
		ORDER BY total, g.begun_at DESC, g.nth DESC`, q.args...)
}
