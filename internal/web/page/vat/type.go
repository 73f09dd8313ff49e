package vat

import (
	"encoding/json"

	"vatside/internal/studio"
)

// View is what a device shows, in the reader's units. It says enough to go on by
// without the program.
type View struct {
	Making  string   `json:"making"`
	Seq     int64    `json:"seq"` // of the newest entry it rests on
	Has     []string `json:"has"` // ids of the entries it rests on, the newest
	Couched int      `json:"couched"`
	Kissed  int      `json:"kissed"`
	Spoilt  int      `json:"spoilt"`
	Wanted  int      `json:"wanted"`
	Tests   int      `json:"tests"` // first sheets still to be weighed; 0: none
	Post    int      `json:"post"`
	InPost  int      `json:"inPost"`
	Holds   int      `json:"holds"` // sheets in a full post; 0: not known
	Closed  bool     `json:"closed"`
	Why     string   `json:"why,omitempty"` // why weights are not followed
	Words   string   `json:"words,omitempty"`
	Last    *Weight  `json:"last,omitempty"`
	Level   string   `json:"level,omitempty"` // of the vat
	Ahead   []Weight `json:"ahead"`
	Acts    []Act    `json:"acts"`
	Asks    []Ask    `json:"asks"`
	Missed  *Ask     `json:"missed,omitempty"`
	Noted   []Noted  `json:"noted"` // the newest first
	Litre   float64  `json:"litre"` // litres in the unit of volume that is typed
	Volume  string   `json:"volume"`
}

// Weight is what a sheet weighs or will.
type Weight struct {
	N    int    `json:"n"`
	Says string `json:"says"`
	Band string `json:"band"`
}

// Act is what to do after so many couched sheets, and the entries that say it
// was done.
type Act struct {
	After int    `json:"after"`
	Kind  string `json:"kind"`
	Say   string `json:"say"`
	More  string `json:"more,omitempty"`
	Notes []Note `json:"notes,omitempty"`
}

// Note is an entry without id and time.
type Note struct {
	Kind     studio.Kind     `json:"kind"`
	Body     json.RawMessage `json:"body"`
	Corrects string          `json:"corrects,omitempty"`
}

// Ask is a question about an entry: Yes notes that it stands, No that it never
// was.
type Ask struct {
	Event string `json:"event"`
	Text  string `json:"text"`
	Yes   *Note  `json:"yes,omitempty"`
	No    Note   `json:"no"`
}

// Noted is an entry that holds, in words.
type Noted struct {
	ID   string `json:"id"`
	Text string `json:"text"`
	When string `json:"when"`
}
