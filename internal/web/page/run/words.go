package run

import (
	"fmt"
	"math"

	"vatside/internal/fault"
	"vatside/internal/watch"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// head says the run in a sentence.
func head(p watch.Past) string {
	switch {
	case len(p.Sheets) == 0:
		return "No sheet has been couched yet"
	case len(p.Weighings) == 0:
		return "No sheet of it was weighed"
	}
	text := part.Upper(page.Drifts(p.Drifts))
	if len(p.Strange) > 0 {
		text += ", but for what was set aside"
	}
	return text
}

// lead says what the sheets weigh, all together.
func lead(s part.Speech, p watch.Past) (list []string) {
	switch {
	case len(p.Sheets) == 0:
		return []string{"What each sheet weighs will stand here, with what was poured and weighed between them."}
	case p.Stopped != nil:
		list = append(list, fmt.Sprintf("After sheet %d it could not be followed: %s", len(p.Sheets), fault.All(p.Stopped)[0].Text))
	}
	if len(p.Weighings) == 0 {
		list = append(list, "So what stands here is what the plan expects of the vat. Weigh a few sheets together, during the run or afterwards, and it becomes what they are.")
	}
	share := fmt.Sprintf("About %.0f in 100 sheets weigh within %.3g\u202f%% of the %s wanted", 100*p.Within, 100*p.Tolerance, s.One(float64(p.Wanted), "g/m²"))
	if p.Scatter > 0 {
		share += fmt.Sprintf("; two thirds of them lie within %.2g\u202f%% of their mean", 100*p.Scatter)
	}
	return append(list, share+". Sheets that were not weighed themselves are counted by what is known of them.")
}

// fewNotes are told of each kind; the table has them all.
const fewNotes = 3

// notes are what to look at.
func notes(p watch.Past, words map[string]string) (list []string) {
	if len(p.Sheets) > 0 && !p.Fed {
		list = append(list, "No recharge is written down: the sheets are told as if none was poured.")
	}
	for _, w := range p.Weighings {
		if w.Beyond() && len(list) < fewNotes {
			list = append(list, fmt.Sprintf("%s: %s, which is further than chance makes it.", words[w.EventID], off(w.Off)))
		}
	}
	for _, w := range p.Strange[:min(len(p.Strange), fewNotes)] {
		list = append(list, fmt.Sprintf("%s: %s, out of all reason. It was set aside: at the vat it can be said to be right.", words[w.EventID], off(w.Off)))
	}
	return list
}

// off says how a weighing lay to what was expected.
func off(v float64) string {
	switch pct := math.Round(100 * v); {
	case pct > 0:
		return fmt.Sprintf("%.0f\u202f%% above what was expected", pct)
	case pct < 0:
		return fmt.Sprintf("%.0f\u202f%% below what was expected", -pct)
	}
	return "as expected"
}

// percent says a part with its sign.
func percent(v float64) string {
	if math.Abs(v) < 0.0005 {
		return "0\u202f%"
	}
	text := fmt.Sprintf("%+.1f\u202f%%", 100*v)
	if v < 0 {
		return "−" + text[1:]
	}
	return text
}

// which says which sheets were weighed.
func which(w watch.Weighing) string {
	if w.First == w.Last {
		return fmt.Sprint(w.First)
	}
	return fmt.Sprintf("%d–%d", w.First, w.Last)
}
