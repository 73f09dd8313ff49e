package journey_test

import (
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// What the first evening may take at most.
const (
	mostRequired = 8
	mostActions  = 25
)

// From the first opening to the printed card: the questions asked, and what a
// person does with hand and keyboard, are counted.
func TestFirstEvening(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	b.Open(s.url)
	b.Do(chromedp.WaitVisible(chromedp.CSS(".questions")))
	questions := browser.Get(b, chromedp.Evaluate[int](`document.querySelectorAll(".questions > li").length`))
	required := browser.Get(b, chromedp.Evaluate[int](`document.querySelectorAll(".questions [required]").length`))
	if questions > mostRequired || required > mostRequired {
		t.Errorf("%d questions, %d of them must be answered; at most %d", questions, required, mostRequired)
	}
	actions := 0
	do := func(what ...chromedp.Action[chromedp.Void]) {
		b.Do(what...)
		actions += len(what)
	}
	answer := func(field, value string) { // into the field, and what is typed
		do(chromedp.Click(chromedp.CSS(`[name="`+field+`"]`)), chromedp.SetValue(chromedp.CSS(`[name="`+field+`"]`), value))
	}
	do(chromedp.Click(chromedp.CSS(`.option:has([name="paper"][value="cover"])`)))
	answer("size", "A3")
	answer("good", "60")
	answer("fibre", "cotton rag 60, abaca 40")
	answer("vat", "90 L")
	answer("jug", "900 mL")
	do(chromedp.Click(chromedp.CSS(`.options:has([name="press"]) .option:nth-child(4)`)))
	do(chromedp.Click(chromedp.CSS(`.option:has([name="drying"][value="exchange"])`)))
	do(chromedp.Click(chromedp.CSS(".finish .act")))
	b.Do(chromedp.WaitVisible(chromedp.CSS(".promise")))
	if got := text(b, ".promise"); !strings.Contains(got, "60 good sheets") {
		t.Errorf("the plan promises %q", got)
	}
	do(chromedp.Click(chromedp.CSS(".acts form .act")))
	t.Logf("first evening: %d questions, %d with a required answer (all filled in before), %d actions to the card", questions, required, actions)
	if actions > mostActions {
		t.Errorf("%d actions; at most %d", actions, mostActions)
	}
	waitFor(t, func() int { // the card is a download, no page
		list, err := s.records.Makings(t.Context(), studio.MakingFilter{})
		if err != nil {
			t.Fatal(err)
		}
		return len(list)
	})
	openAfterDownload(b, s.url+"/makings")
	b.Do(chromedp.WaitVisible(chromedp.CSS(".line .tagcode")))
	tag := text(b, ".line .tagcode")
	click(b, ".line", ".making")
	href := browser.Get(b, chromedp.Evaluate[string](`document.querySelector("a[href$='card.pdf']").href`))
	for _, size := range []string{"", "?paper=a4", "?paper=letter"} {
		pdf := fetch(t, href+size)
		if !strings.HasPrefix(pdf, "%PDF-") || !strings.Contains(pdf, "%%EOF") {
			t.Errorf("the card%s is no PDF: it begins with %.20q", size, pdf)
		}
		if title := regexp.MustCompile(`/Title ?\(([^)]*)\)`).FindStringSubmatch(pdf); title == nil || !strings.Contains(strings.ReplaceAll(title[1], "\x00", ""), tag) {
			t.Errorf("the card's title %q does not carry the tag %s", title, tag)
		}
	}
	if got := b.Complaints(); len(got) > 0 {
		t.Errorf("the pages complain: %q", got)
	}
}

func fetch(t *testing.T, url string) string {
	t.Helper()
	r, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s, %v", url, r.Status, err)
	}
	return string(body)
}
