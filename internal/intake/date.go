package intake

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"vatside/internal/fault"
)

var (
	isoDay    = regexp.MustCompile(`^(\d{4})[-./](\d{1,2})[-./](\d{1,2})(?:[ T]\d.*)?$`)
	eastDay   = regexp.MustCompile(`^(\d{4})年(\d{1,2})月(\d{1,2})日?$`)
	compact   = regexp.MustCompile(`^(19|20)(\d{2})(0[1-9]|1[0-2])([0-2]\d|3[01])$`)
	figureDay = regexp.MustCompile(`^(\d{1,2})[-./ ](\d{1,2})[-./ ]('?\d{2}|\d{4})(?: \d.*)?$`)
	wordDay   = regexp.MustCompile(`^(?:[\p{L}]+\.?,? )?(\d{1,2})(?:st|nd|rd|th|\.)?[- ]+(?:of )?(\p{L}+)\.?,?[- ]+'?(\d{2}|\d{4})$`)
	dayWord   = regexp.MustCompile(`^(?:[\p{L}]+\.?,? )?(\p{L}+)\.?[- ]+(\d{1,2})(?:st|nd|rd|th)?,?[- ]+'?(\d{2}|\d{4})$`)
	monthOnly = regexp.MustCompile(`^(\p{L}+)\.?,?[- ]+(\d{4})$`)
	monthNum  = regexp.MustCompile(`^(?:(\d{1,2})[-./](\d{4})|(\d{4})[-./](\d{1,2}))$`)
	serialDay = regexp.MustCompile(`^\d{5}(?:\.\d+)?$`)
)

// months by the letters they begin with, in the languages of neighbours.
var months = []struct {
	starts string
	month  time.Month
}{
	{"jan jän ene gen", 1}, {"feb fév fev fèv", 2}, {"mar mär mrz maa", 3}, {"apr avr abr", 4}, {"may mai mei mag", 5}, {"jun juin giu", 6},
	{"jul juil lug", 7}, {"aug aoû aou ago", 8}, {"sep set", 9}, {"oct okt ott out", 10}, {"nov", 11}, {"dec dez déc dic", 12},
}

func monthOf(word string) (time.Month, bool) {
	w, best, long := strings.ToLower(word), time.Month(0), 0
	for _, m := range months {
		for _, s := range strings.Fields(m.starts) {
			if strings.HasPrefix(w, s) && len(s) > long {
				best, long = m.month, len(s)
			}
		}
	}
	return best, long > 0
}

// figures are the first two figures of a day written in figures, the year
// last.
func figures(text string) (a, b int, ok bool) {
	m := figureDay.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return 0, 0, false
	}
	a, _ = strconv.Atoi(m[1])
	b, _ = strconv.Atoi(m[2])
	return a, b, true
}

const dayExamples = "2019-05-03, 3 May 2019 or 3/5/2019"

// day reads a day in the styles people write. now bounds years of two figures.
func (st style) day(text string, epoch1904 bool, now time.Time) (d time.Time, note string, err error) {
	t, rough := roughly(strings.Join(strings.Fields(text), " "))
	d, note, err = st.plainDay(t, epoch1904, now)
	if err == nil && note == "" && rough {
		note = fmt.Sprintf("“%s” is read as %s", text, d.Format(time.DateOnly))
	}
	if err == nil && (d.Year() < 1000 || d.After(now.AddDate(1, 0, 0))) {
		err = fault.Invalid("", "%q is in the time to come; write a day like %s", text, dayExamples)
	}
	return d, note, err
}

func (st style) plainDay(t string, epoch1904 bool, now time.Time) (time.Time, string, error) {
	wrong := fault.Invalid("", "%q is not a day; write it like %s", t, dayExamples)
	if m := firstOf(t, isoDay, eastDay); m != nil {
		return ymd(m[1], m[2], m[3], now, wrong)
	}
	if m := compact.FindStringSubmatch(t); m != nil {
		return ymd(m[1]+m[2], m[3], m[4], now, wrong)
	}
	if serialDay.MatchString(t) {
		return serial(t, epoch1904, wrong)
	}
	if m := figureDay.FindStringSubmatch(t); m != nil {
		a, b, _ := figures(t)
		switch {
		case a > 12 && b <= 12, a <= 12 && b <= 12 && st.dayFirst:
			return ymd(m[3], m[2], m[1], now, wrong)
		case b > 12 && a <= 12, a <= 12 && b <= 12:
			return ymd(m[3], m[1], m[2], now, wrong)
		}
		return time.Time{}, "", wrong
	}
	if m := wordDay.FindStringSubmatch(t); m != nil {
		if month, ok := monthOf(m[2]); ok {
			return ymd(m[3], strconv.Itoa(int(month)), m[1], now, wrong)
		}
	}
	if m := dayWord.FindStringSubmatch(t); m != nil {
		if month, ok := monthOf(m[1]); ok {
			return ymd(m[3], strconv.Itoa(int(month)), m[2], now, wrong)
		}
	}
	return monthAlone(t, now, wrong)
}

// monthAlone reads a month without its day as its first.
func monthAlone(t string, now time.Time, wrong error) (time.Time, string, error) {
	year, month := "", ""
	if m := monthOnly.FindStringSubmatch(t); m != nil {
		if n, ok := monthOf(m[1]); ok {
			year, month = m[2], strconv.Itoa(int(n))
		}
	} else if m := monthNum.FindStringSubmatch(t); m != nil {
		year, month = m[2]+m[3], m[1]+m[4]
	}
	if year == "" {
		return time.Time{}, "", wrong
	}
	d, _, err := ymd(year, month, "1", now, wrong)
	return d, fmt.Sprintf("“%s” is read as the first of that month", t), err
}

func firstOf(t string, all ...*regexp.Regexp) []string {
	for _, re := range all {
		if m := re.FindStringSubmatch(t); m != nil {
			return m
		}
	}
	return nil
}

// ymd makes a day; a year of two figures is the last one that is not to come.
func ymd(year, month, day string, now time.Time, wrong error) (time.Time, string, error) {
	year = strings.TrimPrefix(year, "'")
	y, err1 := strconv.Atoi(year)
	m, err2 := strconv.Atoi(month)
	d, err3 := strconv.Atoi(day)
	if err1 != nil || err2 != nil || err3 != nil {
		return time.Time{}, "", wrong
	}
	if len(year) == 2 {
		y += now.Year() / 100 * 100
		if y > now.Year()+1 {
			y -= 100
		}
	}
	t := time.Date(y, time.Month(m), d, 12, 0, 0, 0, time.UTC)
	if t.Day() != d || int(t.Month()) != m {
		return time.Time{}, "", wrong // such as 31 April
	}
	return t, "", nil
}

// serial reads the days of a spreadsheet: counted from the end of 1899, or
// from 1904.
func serial(t string, epoch1904 bool, wrong error) (time.Time, string, error) {
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || v < 20000 || v > 80000 {
		return time.Time{}, "", wrong
	}
	from := time.Date(1899, 12, 30, 12, 0, 0, 0, time.UTC)
	if epoch1904 {
		from = time.Date(1904, 1, 1, 12, 0, 0, 0, time.UTC)
	}
	return from.AddDate(0, 0, int(math.Floor(v))), "", nil
}
