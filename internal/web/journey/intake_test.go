package journey_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// A notebook of an invented mill, chosen, put right, written down, and taken
// back.
func TestTakingASheetIn(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	s.making()
	file := filepath.Join(t.TempDir(), "notebook.csv")
	notes := "Date,Paper,Fibre,gsm,Sheets,Sheet wt,Sky\n3/5/2019,Heron text,abaca,100,60,12.4,wet\n14.5.2019,Heron text,abaca,approx 100,2-3,12.5,\nnever,Heron text,abaca,100,,,\n"
	if err := os.WriteFile(file, []byte(notes), 0o600); err != nil {
		t.Fatal(err)
	}
	open(b, s.url+"/makings")
	click(b, `a[href="/intake"]`, "#f-file")
	b.Do(chromedp.SetUploadFiles(chromedp.CSS("#f-file"), []string{file}))
	click(b, "form .act", "#would")
	if got := text(b, "#would .lead"); got != "2 will be added, 1 cannot be read." {
		t.Errorf("it would do %q", got)
	}
	b.Do(chromedp.SetValue(chromedp.CSS(`[name="unit-5"]`), "oz"))
	click(b, ".finish .act", "#would")
	loaded(b)
	if got := value(b, "unit-5"); got != "oz" {
		t.Errorf("the sheets are weighed in %q", got)
	}
	click(b, "#would .act", "[role=status]")
	if got := text(b, "[role=status]"); !strings.Contains(got, "2 makings added") {
		t.Errorf("written down it says %q", got)
	}
	click(b, `a[href^="/intake?undo="]`, `form[action$="/undo"]`)
	click(b, `form[action$="/undo"] .act`, "[role=status]")
	if got := text(b, "[role=status]"); !strings.Contains(got, "Undone") {
		t.Errorf("taken back it says %q", got)
	}
	if list, err := s.records.Makings(t.Context(), studio.MakingFilter{}); err != nil || len(list) != 1 {
		t.Errorf("%d makings are left, %v", len(list), err)
	}
}
