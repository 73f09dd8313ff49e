package web_test

import (
	"encoding/json"
	"net/url"
	"slices"
	"strings"
	"testing"

	"vatside/internal/plan"
)

// typedIn fills rows of the studio's form, each blank by its name, and saves.
func (a *aStudio) typedIn(rows map[string][]map[string]string, singles map[string]string) sheet {
	a.t.Helper()
	form := filled(a.get("/studio"))
	for key, list := range rows {
		form.Del(key)
		for i, row := range list {
			n := string(rune('1' + i))
			form.Add(key, n)
			for blank, text := range row {
				form.Set(key+"-"+n+"-"+blank, text)
			}
		}
	}
	for blank, text := range singles {
		form.Set(blank, text)
	}
	return a.post("/studio", form)
}

func (a *aStudio) kit() plan.Studio {
	a.t.Helper()
	p, err := a.records.Profile(a.t.Context())
	if err != nil {
		a.t.Fatal(err)
	}
	return p.Kit
}

type row = map[string]string

// Five studios that have little in common, each set up through its page.
func TestFiveStudios(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		rows    map[string][]row
		singles row
		right   func(plan.Studio) bool
	}{
		"abaca and flax": {
			map[string][]row{
				"vat":    {{"name": "big", "holds": "80", "least": "58 L"}},
				"beater": {{"name": "Hollander", "kind": "beater", "rated": "680 g", "water": "22.7", "ground": "2026-03-01"}},
				"press":  {{"name": "bottle jack", "kind": "jack", "force": "6 t", "platen": "76 x 56 cm", "daylight": "40 cm"}},
				"dryer":  {{"name": "stack", "boards": "21", "size": "76 x 56 cm", "airflow": "0.05", "blotters": "80"}},
			},
			row{"felts": "40", "lift": "25 kg", "summer-temp": "24", "summer-rh": "60", "winter-temp": "17", "winter-rh": "35", "temp": "20", "rh": "50"},
			func(k plan.Studio) bool {
				return *k.Vats[0].LeastL == 58 && k.Beaters[0].Ground == "2026-03-01" && near(k.Presses[0].ForceKN, 58.84) && *k.Presses[0].LongMM == 760 &&
					k.Dryers[0].Places == 0 && *k.Dryers[0].Boards == 21 && *k.LiftKG == 25 && len(k.Seasons) == 2 && slices.Equal(k.Seasons[1].Months, []int{12, 1, 2})
			}},
		"office waste in a kitchen": {
			map[string][]row{
				"vat":    {{"name": "tub", "holds": "15"}},
				"beater": {{"name": "kitchen blender", "kind": "blender", "rated": "12", "water": "1"}},
				"press":  {{"name": "two buckets", "kind": "weights", "load": "83 lb"}},
				"dryer":  {{"name": "window", "kind": "board", "places": "6"}},
			},
			row{"usual": "11 x 14 in"},
			func(k plan.Studio) bool {
				return k.Beaters[0].Kind == "blender" && near(k.Presses[0].ForceKN, 0.3692) && k.Presses[0].Kind == "weights" && k.Dryers[0].Kind == "board" && k.Dryers[0].Places == 6
			}},
		"kozo with a mallet": {
			map[string][]row{
				"vat":   {{"name": "long vat", "holds": "200"}},
				"mould": {{"name": "two up", "size": "640 x 480", "pull": "2", "mesh": "9", "face": "laid", "count": "2"}},
				"dryer": {{"name": "ginkgo boards", "kind": "board", "places": "24"}},
			},
			row{"hemisphere": "south", "winter-temp": "8", "winter-rh": "55", "altitude": "900", "hardness": "40", "iron": "0.1"},
			func(k plan.Studio) bool {
				return len(k.Beaters) == 0 && *k.Moulds[0].AtAPull == 2 && *k.Moulds[0].MeshCM == 9 && k.Moulds[0].Face == "laid" && *k.AltitudeM == 900 &&
					slices.Equal(k.Seasons[0].Months, []int{6, 7, 8}) && k.Air == nil && *k.Water.HardnessMGL == 40 && k.Water.PH == nil
			}},
		"denim and a two-pound beater": {
			map[string][]row{
				"beater": {{"name": "two-pounder", "rated": "2 lb", "water": "8 US gal"}},
				"press":  {{"name": "old screw", "kind": "screw", "pull": "65 lb", "bar": "60 cm", "lead": "8 mm"}, {"name": "table", "kind": "vacuum table", "gauge": "25 inHg"}},
				"scale":  {{"name": "bench", "step": "1 g", "most": "5 kg"}},
			},
			row{"system": "us", "rate": "28", "overhead": "15", "day": "5"},
			func(k plan.Studio) bool {
				return near(k.Beaters[0].RatedDryG, 907.2) && near(k.Presses[0].ForceKN, 34.07) && near(k.Presses[1].ForceKN, 84.66*0.297*0.21) && k.Scales[0].MostG == 5000 && *k.Overhead == 15
			}},
		"a teaching lab": {
			map[string][]row{
				"vat":    {{"holds": "40", "name": "a"}, {"holds": "80", "name": "b"}, {"holds": "60", "name": "c"}},
				"beater": {{"rated": "1.4 kg", "water": "45", "name": "one"}, {"rated": "900", "water": "30", "name": "two"}, {"rated": "680", "water": "23", "name": "three"}, {"rated": "450", "water": "15", "name": "four"}, {"rated": "20", "water": "1.5", "name": "five", "kind": "blender"}},
				"mould":  {{"size": "A3", "name": "A3 wove"}, {"size": "A4", "name": "A4", "count": "12"}, {"size": "22 x 30 in", "name": "full"}},
				"press":  {{"name": "hydraulic", "force": "20 US tons"}, {"name": "lever", "kind": "lever", "weight": "60 kg", "long": "2 m", "short": "25 cm"}},
				"dryer":  {{"name": "stack", "places": "40", "airflow": "0.1"}, {"name": "loft", "kind": "loft", "places": "120"}},
			}, nil,
			func(k plan.Studio) bool {
				return len(k.Vats) == 3 && len(k.Beaters) == 5 && k.Beaters[4].Kind == "blender" && *k.Moulds[1].Count == 12 && near(k.Presses[1].ForceKN, 4.707) && near(k.Presses[0].ForceKN, 177.9) && k.Dryers[1].Kind == "loft"
			}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			a := newStudio(t)
			saved := a.typedIn(c.rows, c.singles)
			if saved.code != 303 {
				t.Fatalf("status %d: %s", saved.code, saved.text(".wrong-summary"))
			}
			k := a.kit()
			if !c.right(k) {
				t.Errorf("kept: %+v", k)
			}
			again := a.post("/studio", filled(a.follow(saved)))
			if again.code != 303 {
				t.Fatalf("untouched, status %d: %s", again.code, again.text(".wrong-summary"))
			}
			if was, now := asJSON(t, k), asJSON(t, a.kit()); was != now {
				t.Errorf("saved untouched it changed:\n%s\n%s", was, now)
			}
		})
	}
}

func near(got, want float64) bool { return got > want*0.999 && got < want*1.001 }

// Pressures as print has them come out beside the press: 20 tons on a full
// sheet 61 psi, 8 tons on a yard square 12.3 psi, two buckets 0.54 psi.
func TestPressureBesideThePress(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		usual string
		press row
		says  string
	}{
		{"22 x 30 in", row{"force": "20 US tons"}, "20 US tons on Full sheet is 60.6 psi"},
		{"36 x 36 in", row{"force": "8 US tons"}, "12.3 psi"},
		{"11 x 14 in", row{"kind": "weights", "load": "83 lb"}, "0.539 psi"},
	} {
		a := newStudio(t)
		saved := a.typedIn(map[string][]row{"press": {c.press}}, row{"system": "us", "usual": c.usual})
		if got := a.follow(saved).text("#kit-press .comes-to"); !strings.Contains(got, c.says) {
			t.Errorf("%v on %s: %q", c.press, c.usual, got)
		}
	}
}

// What older records and the first evening keep under short keys stands first
// in its list, and stays there.
func TestOldRecordsBecomeLists(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p, err := a.records.Profile(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	vat, least := 80.1234567, 58.0
	p.Kit = plan.Studio{VatL: &vat, VatLeastL: &least, Beater: &plan.Beater{RatedDryG: 680, WaterL: 22.7}, Press: &plan.Press{ForceKN: 19.6133},
		Presses: []plan.Press{{Name: "old", ForceKN: 40}}, Dryer: &plan.Dryer{Places: 20, AirflowM3S: 0.03}}
	if _, err := a.records.SaveProfile(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	saved := a.post("/studio", filled(a.get("/studio")))
	if saved.code != 303 {
		t.Fatalf("status %d: %s", saved.code, saved.text(".wrong-summary"))
	}
	k := a.kit()
	if k.VatL != nil || k.Beater != nil || k.Press != nil || k.Dryer != nil {
		t.Errorf("short keys are left: %s", asJSON(t, k))
	}
	if k.Vats[0].VatL != vat || *k.Vats[0].LeastL != least || k.Beaters[0].RatedDryG != 680 || k.Presses[0].ForceKN != 19.6133 || k.Presses[1].Name != "old" || k.Dryers[0].Places != 20 {
		t.Errorf("lost on the way: %s", asJSON(t, k))
	}
}

// Of what is out of order its list keeps everything, and plans do without it.
func TestOutOfOrder(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	beater := row{"name": "two-pounder", "rated": "907", "water": "30"}
	a.typedIn(map[string][]row{"beater": {beater, {"name": "spare", "rated": "450", "water": "15"}}}, nil)
	form := filled(a.get("/studio"))
	form.Set("beater-1-state", "out")
	a.post("/studio", form)
	if k := a.kit(); !slices.Equal(k.Without, []string{"two-pounder"}) || len(k.Beaters) != 2 {
		t.Fatalf("kept: %s", asJSON(t, k))
	}
	form = filled(a.get("/studio"))
	if form.Get("beater-1-state") != "out" {
		t.Error("the page does not show what is out of order")
	}
	form.Set("beater-1-name", "Two")
	form.Set("beater-2-state", "gone")
	a.post("/studio", form)
	if k := a.kit(); !slices.Equal(k.Without, []string{"Two"}) || len(k.Beaters) != 1 {
		t.Errorf("renamed, and another taken off: %s", asJSON(t, k))
	}
	form = filled(a.get("/studio"))
	form.Set("beater-1-name", "")
	if got := a.post("/studio", form); got.code != 422 || !strings.Contains(got.text("#f-beater-1-name-error"), "Give it a name") {
		t.Errorf("without a name, status %d: %s", got.code, got.text(".wrong-summary"))
	}
}

// Without script the buttons add, move and work out, and lose nothing.
func TestRowsWithoutScript(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	do := func(form url.Values, what string) url.Values {
		t.Helper()
		form.Set("do", what)
		page := a.post("/studio", form)
		if page.code != 200 {
			t.Fatalf("%s: status %d", what, page.code)
		}
		return filled(page)
	}
	form := do(filled(a.get("/studio")), "press.add")
	form = do(form, "press.add")
	form.Set("press-2-name", "screw")
	form.Set("press-2-kind", "screw")
	form.Set("press-2-pull", "0.3 kN")
	form.Set("press-2-bar", "600")
	form.Set("press-2-lead", "8")
	form.Set("press-1-force", "twelve tons")
	form = do(form, "press.2.work")
	if got := form.Get("press-2-force"); !strings.HasPrefix(got, "35.3") {
		t.Errorf("worked out: %q", got)
	}
	form = do(form, "press.2.up")
	if got := form["press"]; !slices.Equal(got, []string{"2", "1"}) || form.Get("press-1-force") != "twelve tons" {
		t.Errorf("moved: %v, %q", got, form.Get("press-1-force"))
	}
	form.Set("press-1-force", "300")
	form.Set("press-1-daylight", "9 m")
	form.Del("do")
	refused := a.post("/studio", form)
	if refused.code != 422 || refused.text("#f-press-1-daylight-error") == "" || refused.Find("#kit-press[open]").Length() == 0 {
		t.Errorf("the plan's fault is not at its row: status %d, %s", refused.code, refused.text(".wrong-summary"))
	}
	form.Set("press-1-daylight", "")
	if saved := a.post("/studio", form); saved.code != 303 || a.kit().Presses[0].Name != "screw" {
		t.Errorf("status %d, %s", saved.code, asJSON(t, a.kit()))
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
