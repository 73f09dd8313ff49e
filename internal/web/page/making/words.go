package making

import (
	"fmt"
	"strconv"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

func lines(list []studio.Making, now time.Time) []Line {
	var out []Line
	for _, m := range list {
		l := Line{Href: "/makings/" + m.ID, Tag: m.Tag, Paper: m.PaperName, Stage: string(m.Progress.Stage), When: "begun " + part.Since(m.Created, now)}
		if m.Progress.Good > 0 {
			l.Good = strconv.Itoa(m.Progress.Good) + " good"
		} else if m.Progress.Couched > 0 {
			l.Good = strconv.Itoa(m.Progress.Couched) + " couched"
		}
		out = append(out, l)
	}
	return out
}

// counts is the record in a few numbers.
func counts(s part.Speech, st studio.State) []Count {
	var list []Count
	add := func(have bool, name, value string) {
		if have {
			list = append(list, Count{name, value})
		}
	}
	add(st.FibreG > 0, "Fibre weighed out", s.One(st.FibreG, "g"))
	add(st.Pulled > 0, "Pulled", fmt.Sprintf("%d, of them %d kissed off", st.Pulled, st.KissedOff))
	add(st.Pulled > 0, "Couched", strconv.Itoa(st.Couched))
	add(st.Recharged > 0, "Recharges", fmt.Sprintf("%d, %s of stock in all", st.Recharged, s.One(st.RechargeML, "mL")))
	for _, d := range st.Dry {
		add(true, "Dry", fmt.Sprintf("%s together%s, %s each", weighed(s, d.Sheets, d.Grams), page.Room(d.RHPct), s.One(d.Grams/float64(d.Sheets), "g")))
	}
	for _, z := range st.Sizes {
		add(true, "Dry size", s.SizeLine(z.LongMM, z.ShortMM))
	}
	g := st.Grades
	add(st.Graded, "Grades", fmt.Sprintf("%d good, %d retree, %d broken, %d broke", g.Good, g.Retree, g.Broken, g.Broke))
	total := 0.0
	for _, m := range st.Minutes {
		total += m
	}
	add(total > 0, "Hands on", s.One(total, "min"))
	return list
}

func weighed(s part.Speech, sheets int, grams float64) string {
	return sheetsOf(sheets) + " weighed " + s.One(grams, "g")
}

func sheetsOf(n int) string {
	if n == 1 {
		return "1 sheet"
	}
	return strconv.Itoa(n) + " sheets"
}

// said is an entry in words; step names come from the plan.
func said(s part.Speech, steps map[string]string, b studio.Body) string {
	switch b := b.(type) {
	case studio.Post:
		text := fmt.Sprintf("Post %d: %s couched", b.Post, sheetsOf(b.Pulled-b.KissedOff))
		if b.KissedOff > 0 {
			text += fmt.Sprintf(", %d kissed off", b.KissedOff)
		}
		return text
	case studio.DrySize:
		return "Dry size: " + s.SizeLine(b.LongMM, b.ShortMM)
	case studio.Graded:
		return fmt.Sprintf("Graded: %d good, %d retree, %d broken, %d broke", b.Good, b.Retree, b.Broken, b.Broke)
	case studio.StepTime:
		name := steps[b.Step]
		if name == "" {
			name = part.Upper(b.Step)
		}
		return name + ": " + s.One(b.Minutes, "min") + " by hand"
	case studio.FibreWeighed:
		return "Fibre weighed out: " + s.One(b.Grams, "g")
	case studio.StockLeft:
		return "Stock left: " + s.One(b.Litres, "L")
	case studio.Remark:
		return "“" + b.Text + "”"
	case studio.Photo:
		return photoSaid(b)
	case studio.Closed:
		return "Closed: nothing more will come"
	}
	if text := page.AtVat(s, b); text != "" {
		return text
	}
	return saidMeasured(s, b)
}
