package studio

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"vatside/internal/fault"
)

// Kind is what an event tells of.
type Kind string

// The kinds; any other is refused.
const (
	KindPost       Kind = "post"
	KindRecharge   Kind = "recharge"
	KindTest       Kind = "test weighed"
	KindParting    Kind = "weighed at parting"
	KindDry        Kind = "weighed dry"
	KindSize       Kind = "dry size"
	KindGraded     Kind = "graded"
	KindStepTime   Kind = "step time"
	KindStockLeft  Kind = "stock left"
	KindFibre      Kind = "fibre weighed"
	KindRemark     Kind = "remark"
	KindCorrection Kind = "correction"
	KindClosed     Kind = "closed"

	KindBeat      Kind = "beat reading"
	KindCaliper   Kind = "caliper"
	KindDiagonals Kind = "diagonals"
	KindSized     Kind = "sized"
	KindCobb      Kind = "cobb"
	KindInk       Kind = "ink strip"
	KindSoaked    Kind = "soaked"
	KindHand      Kind = "hand says"

	KindSteeped  Kind = "fibre soaked"
	KindMoisture Kind = "moisture check"
	KindAdded    Kind = "added"
	KindPressed  Kind = "pressed"
	KindDried    Kind = "dried"
	KindSpoilt   Kind = "spoilt"
	KindWater    Kind = "water used"

	KindVat      Kind = "vat changed"
	KindStrained Kind = "vat strained"
)

// Event is one thing that happened in a making. It is appended and never
// edited; the client makes its id, so that sending it twice stores it once.
type Event struct {
	ID       string          `json:"id"`
	MakingID string          `json:"making,omitempty"`
	Seq      int64           `json:"seq,omitempty"` // order of arrival; set by the store
	Kind     Kind            `json:"kind"`
	Body     json.RawMessage `json:"body"`
	At       time.Time       `json:"at"`                 // the maker's time, to the millisecond
	Received time.Time       `json:"received,omitzero"`  // set on arrival
	Corrects string          `json:"corrects,omitempty"` // of a correction: the id of the event it corrects
}

// Body is the content of an event, one type to a kind.
type Body interface {
	Kind() Kind
	check(*fault.List)
}

// Post counts sheets of one post. Events of the same post add up, so that one
// event may tell of a sheet or of the whole post.
type Post struct {
	Post      int `json:"post"`       // which post, from 1
	Pulled    int `json:"pulled"`     // sheets pulled, those kissed off among them
	KissedOff int `json:"kissed_off"` // sheets that went back into the vat
}

// Recharge is stock put into the vat. After which sheet, or in which post, is
// said where it is known.
type Recharge struct {
	AfterSheet *int    `json:"after_sheet,omitempty"` // sheets pulled before it
	Post       *int    `json:"post,omitempty"`
	Times      int     `json:"times,omitempty"` // how often; 0 counts as once
	StockML    float64 `json:"stock_ml"`        // all times together
}

// TestWeighed is sheets ironed and weighed together: the first of the run, or,
// with From, those from that sheet on, counted as they were couched.
type TestWeighed struct {
	Sheets  int     `json:"sheets"`
	Grams   float64 `json:"grams"`
	RHPct   float64 `json:"rh_pct"`             // of the room's air; 0: not said
	BoneDry bool    `json:"bone_dry,omitempty"` // weighed hot, before the room's air got at them
	From    int     `json:"from,omitempty"`     // 0: the first ones not weighed yet
	Sure    bool    `json:"sure,omitempty"`     // the maker was asked and stands by it
}

// WeighedAtParting is sheets of one post, pressed and still wet, weighed
// together. Post 0: not said.
type WeighedAtParting struct {
	Post   int     `json:"post"`
	Sheets int     `json:"sheets"`
	Grams  float64 `json:"grams"`
	Sure   bool    `json:"sure,omitempty"` // the maker was asked and stands by it
}

// WeighedDry is dry sheets weighed together in the room's air.
type WeighedDry struct {
	Sheets int     `json:"sheets"`
	Grams  float64 `json:"grams"`
	RHPct  float64 `json:"rh_pct"` // of the room's air; 0: not said
}

// DrySize is what a sheet became.
type DrySize struct {
	LongMM  float64 `json:"long_mm"`
	ShortMM float64 `json:"short_mm"`
}

// Graded counts finished sheets by grade. Events add up.
type Graded struct {
	Good   int `json:"good"`
	Retree int `json:"retree"`
	Broken int `json:"broken"`
	Broke  int `json:"broke"`
}

// StepTime is hands-on time of one step. Events of the same step add up.
type StepTime struct {
	Step    string  `json:"step"` // key of the plan's step
	Minutes float64 `json:"minutes"`
}

// StockLeft is stock not used, measured before it is kept or thrown away. The
// last one holds.
type StockLeft struct {
	Litres float64 `json:"litres"`
}

// FibreWeighed is the fibre that went into the beater, as it lay on the shelf.
// Events add up. Lots says what of it came from which lot of the shelf, where
// that was noted; those lots then hold so much less.
type FibreWeighed struct {
	Grams float64   `json:"grams"`
	Lots  []FromLot `json:"lots,omitempty"`
}

// FromLot is what was taken from one lot, as it lay.
type FromLot struct {
	Lot   string  `json:"lot"` // its id
	Grams float64 `json:"grams"`
}

// Remark is words.
type Remark struct {
	Text string `json:"text"`
}

// Closed ends a making: nothing more is expected of it.
type Closed struct{}

// Kind returns KindPost.
func (Post) Kind() Kind { return KindPost }

// Kind returns KindRecharge.
func (Recharge) Kind() Kind { return KindRecharge }

// Kind returns KindTest.
func (TestWeighed) Kind() Kind { return KindTest }

// Kind returns KindParting.
func (WeighedAtParting) Kind() Kind { return KindParting }

// Kind returns KindDry.
func (WeighedDry) Kind() Kind { return KindDry }

// Kind returns KindSize.
func (DrySize) Kind() Kind { return KindSize }

// Kind returns KindGraded.
func (Graded) Kind() Kind { return KindGraded }

// Kind returns KindStepTime.
func (StepTime) Kind() Kind { return KindStepTime }

// Kind returns KindStockLeft.
func (StockLeft) Kind() Kind { return KindStockLeft }

// Kind returns KindFibre.
func (FibreWeighed) Kind() Kind { return KindFibre }

// Kind returns KindRemark.
func (Remark) Kind() Kind { return KindRemark }

// Kind returns KindClosed.
func (Closed) Kind() Kind { return KindClosed }

func (b Post) check(f *fault.List) {
	checkInt(f, "post", b.Post, 1, mostSheets, "posts")
	checkInt(f, "pulled", b.Pulled, 0, mostSheets, "sheets")
	checkInt(f, "kissed_off", b.KissedOff, 0, mostSheets, "sheets")
	if b.Pulled == 0 && b.KissedOff == 0 {
		f.Add(fault.Invalid("pulled", "count at least one sheet"))
	}
}

func (b Recharge) check(f *fault.List) {
	if b.AfterSheet != nil {
		checkInt(f, "after_sheet", *b.AfterSheet, 0, mostSheets, "sheets")
	}
	if b.Post != nil {
		checkInt(f, "post", *b.Post, 1, mostSheets, "posts")
	}
	checkInt(f, "times", b.Times, 0, mostSheets, "times")
	checkOver(f, "stock_ml", b.StockML, mostGrams, "mL")
}

func checkWeighing(f *fault.List, sheets int, grams float64) {
	checkInt(f, "sheets", sheets, 1, mostSheets, "sheets")
	checkOver(f, "grams", grams, mostGrams, "g")
}

func (b TestWeighed) check(f *fault.List) {
	checkWeighing(f, b.Sheets, b.Grams)
	checkInt(f, "from", b.From, 0, mostSheets, "sheets")
	checkNumber(f, "rh_pct", b.RHPct, 0, 100, "%")
}

func (b WeighedAtParting) check(f *fault.List) {
	checkInt(f, "post", b.Post, 0, mostSheets, "posts")
	checkWeighing(f, b.Sheets, b.Grams)
}

func (b WeighedDry) check(f *fault.List) {
	checkWeighing(f, b.Sheets, b.Grams)
	checkNumber(f, "rh_pct", b.RHPct, 0, 100, "%")
}

func (b DrySize) check(f *fault.List) {
	checkOver(f, "long_mm", b.LongMM, mostMM, "mm")
	checkOver(f, "short_mm", b.ShortMM, mostMM, "mm")
}

func (b Graded) check(f *fault.List) {
	checkInt(f, "good", b.Good, 0, mostSheets, "sheets")
	checkInt(f, "retree", b.Retree, 0, mostSheets, "sheets")
	checkInt(f, "broken", b.Broken, 0, mostSheets, "sheets")
	checkInt(f, "broke", b.Broke, 0, mostSheets, "sheets")
	if b == (Graded{}) {
		f.Add(fault.Invalid("good", "count at least one sheet"))
	}
}

func (b StepTime) check(f *fault.List) {
	if strings.TrimSpace(b.Step) == "" {
		f.Add(fault.Invalid("step", "say which step"))
	}
	checkText(f, "step", b.Step, shortText)
	checkNumber(f, "minutes", b.Minutes, 0, mostMinutes, "minutes")
}

func (b StockLeft) check(f *fault.List) {
	checkNumber(f, "litres", b.Litres, 0, mostGrams, "L")
}

func (b FibreWeighed) check(f *fault.List) {
	checkNumber(f, "grams", b.Grams, 0, mostGrams, "g")
	sum := 0.0
	for i, l := range b.Lots {
		at := fmt.Sprintf("lots[%d]", i)
		if l.Lot == "" {
			f.Add(fault.Invalid(at+".lot", "say which lot"))
		}
		checkText(f, at+".lot", l.Lot, shortText)
		checkOver(f, at+".grams", l.Grams, mostGrams, "g")
		sum += l.Grams
	}
	if sum > b.Grams*(1+1e-9) {
		f.Add(fault.Invalid("lots", "more was taken from the lots than was weighed in all"))
	}
}

func (b Remark) check(f *fault.List) {
	if strings.TrimSpace(b.Text) == "" {
		f.Add(fault.Invalid("text", "write a remark"))
	}
	checkText(f, "text", b.Text, longText)
}

func (Closed) check(*fault.List) {}

// NewEvent returns the event that tells of body. The id is the client's own;
// it must not be used for anything else.
func NewEvent(id string, at time.Time, body Body) Event {
	return Event{ID: id, Kind: body.Kind(), Body: encode(body), At: at}
}

// Correction returns the event that puts body in place of what the event
// corrects said. What is corrected may itself be a correction.
func Correction(id string, at time.Time, corrects string, body Body) Event {
	return Event{ID: id, Kind: KindCorrection, Body: encode(body), At: at, Corrects: corrects}
}

// Void returns the correction that says: the event corrects never happened. Of
// a correction it takes that correction back.
func Void(id string, at time.Time, corrects string) Event {
	return Event{ID: id, Kind: KindCorrection, Body: json.RawMessage(`{"void":true}`), At: at, Corrects: corrects}
}

func encode(body Body) json.RawMessage {
	b, err := json.Marshal(body)
	if err != nil {
		// Only NaN and Inf cannot be written; a body that is no object is refused
		// when the event is checked.
		return json.RawMessage(`null`)
	}
	return b
}

// ReadBody returns the typed body of an event of that kind. Faults: Invalid,
// OutOfRange, with the field as JSON path below body.
func ReadBody(kind Kind, body json.RawMessage) (Body, error) {
	if read, ok := readers[kind]; ok {
		return read(body)
	}
	return nil, fault.Invalid("kind", "%q is not a kind of event", string(kind))
}

// readers read the body of each kind; there is no other list of the kinds.
var readers = map[Kind]func(json.RawMessage) (Body, error){
	KindPost: readAs[Post], KindRecharge: readAs[Recharge], KindTest: readAs[TestWeighed], KindParting: readAs[WeighedAtParting],
	KindDry: readAs[WeighedDry], KindSize: readAs[DrySize], KindGraded: readAs[Graded], KindStepTime: readAs[StepTime],
	KindStockLeft: readAs[StockLeft], KindFibre: readAs[FibreWeighed], KindRemark: readAs[Remark], KindClosed: readAs[Closed],
	KindBeat: readAs[BeatReading], KindCaliper: readAs[Caliper], KindDiagonals: readAs[Diagonals], KindSized: readAs[Sized],
	KindCobb: readAs[Cobb], KindInk: readAs[InkStrip], KindSoaked: readAs[Soaked], KindHand: readAs[HandSays],
	KindSteeped: readAs[Steeped], KindMoisture: readAs[MoistureCheck], KindAdded: readAs[Added], KindPressed: readAs[Pressed],
	KindDried: readAs[Dried], KindSpoilt: readAs[Spoilt], KindWater: readAs[WaterUsed],
	KindPhoto: readAs[Photo], KindVat: readAs[VatChanged], KindStrained: readAs[VatStrained],
}

func readAs[B Body](raw json.RawMessage) (Body, error) {
	var body B
	if t := bytes.TrimSpace(raw); len(t) == 0 || t[0] != '{' {
		return nil, fault.Invalid("body", "the body is a JSON object")
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields() // a misspelt key would count as nothing said
	if err := dec.Decode(&body); err != nil {
		return nil, fault.Invalid("body", "the body of %q cannot be read: %s", string(body.Kind()), strings.TrimPrefix(err.Error(), "json: "))
	}
	if dec.More() {
		return nil, fault.Invalid("body", "the body is one JSON object")
	}
	var faults fault.List
	body.check(&faults)
	for _, f := range faults {
		f.Field = "body." + f.Field
	}
	return body, faults.OrNil()
}

// isVoid reports whether a correction's body takes back what it points at.
func isVoid(raw json.RawMessage) bool {
	var b struct {
		Void bool `json:"void"`
	}
	return json.Unmarshal(raw, &b) == nil && b.Void
}

// Words are what hand and ear say, without the remark: "handle: firm, rattle
// 4 of 5"; "" where there is a remark alone.
func (b HandSays) Words() string {
	var said []string
	for _, t := range [][2]string{{"handle", b.Handle}, {"rattle", b.Rattle}, {"tooth", b.Tooth}} {
		switch text := strings.TrimSpace(t[1]); {
		case text == "":
		case len(text) == 1 && text >= "1" && text <= "5":
			said = append(said, t[0]+" "+text+" of 5")
		default:
			said = append(said, t[0]+": "+text)
		}
	}
	return strings.Join(said, ", ")
}

// All is the words and the remark, as a sentence or two.
func (b HandSays) All() string {
	words, remark := b.Words(), strings.TrimSpace(b.Remark)
	if words == "" {
		return remark
	}
	text := strings.ToUpper(words[:1]) + words[1:]
	if remark != "" {
		text += ". " + remark
	}
	return text
}

// HandSaid is what the hand said of a making of a paper.
type HandSaid struct {
	HandSays
	MakingID string
	Tag      string
	Revision int // of the paper it was made by
}

// Hands is what the hand said of a paper's makings, the newest first, at most
// so many; by one revision, or by all of them where it is 0.
func (s *Service) Hands(ctx context.Context, paperID string, revision, most int) ([]HandSaid, error) {
	var list []HandSaid
	err := s.store.Read(ctx, func(tx Tx) error {
		makings, err := tx.Makings(ctx, MakingFilter{PaperID: paperID, With: KindHand, Light: true})
		if err != nil {
			return err
		}
		for _, m := range makings {
			if len(list) >= most || revision != 0 && m.PaperRevision != revision {
				continue
			}
			events, err := tx.Events(ctx, m.ID)
			if err != nil {
				return err
			}
			holding, _ := hold(events)
			for _, h := range slices.Backward(holding) {
				if says, ok := h.Body.(HandSays); ok && len(list) < most {
					list = append(list, HandSaid{says, m.ID, m.Tag, m.PaperRevision})
				}
			}
		}
		return nil
	})
	return list, err
}
