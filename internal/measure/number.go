package measure

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Spellings of numbers, after tidying: 8 1/2, 8-1/2, 1/2, 12 400, 1,234.5.
var (
	mixed   = regexp.MustCompile(`^(\d+)(?: *- *| +)(\d+) ?/ ?(\d+)`)
	broken  = regexp.MustCompile(`^(\d+) ?/ ?(\d+)`)
	grouped = regexp.MustCompile(`^\d{1,3}(?: \d{3})+(?:[.,]\d+)?`)
	simple  = regexp.MustCompile(`^(?:\d[\d.,]*|[.,]\d+)`)
	triples = regexp.MustCompile(`^[1-9]\d{0,2}(?:[.,]\d{3})+$`)
)

// mostDigits keeps numbers inside what a float64 holds exactly, and what
// anybody can mean.
const mostDigits = 15

var errNoNumber = errors.New("no number")

// tidy brings the many ways of typing the same to one: lower case, plain
// spaces, quotes and minus, fractions spelled out.
func tidy(text string) string {
	return strings.TrimSpace(tidier.Replace(strings.ToLower(strings.Join(strings.Fields(text), " "))))
}

var tidier = strings.NewReplacer(
	"\u202f", " ", "\u2009", " ", "\u00a0", " ",
	"−", "-", "–", "-", "⁄", "/",
	"''", `"`, "″", `"`, "”", `"`, "“", `"`, "′", "'", "’", "'", "º", "°",
	"½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4",
	"⅕", " 1/5", "⅖", " 2/5", "⅗", " 3/5", "⅘", " 4/5", "⅙", " 1/6", "⅚", " 5/6",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
)

// readNumber reads the number a tidied text begins with and returns what
// follows it. errNoNumber says there is none; other errors are sentences.
func readNumber(s string, sys System) (v float64, rest string, err error) {
	if m := mixed.FindStringSubmatch(s); m != nil {
		part, err := quotient(m[2], m[3])
		if err != nil {
			return 0, "", err
		}
		if part >= 1 {
			return 0, "", fmt.Errorf("%s is not a number; after a whole number the fraction must be under one", m[0])
		}
		full, err := decimal(m[1], sys)
		return full + part, s[len(m[0]):], err
	}
	if m := broken.FindStringSubmatch(s); m != nil {
		v, err = quotient(m[1], m[2])
		return v, s[len(m[0]):], err
	}
	if m := grouped.FindString(s); m != "" && !strings.ContainsAny(first(s[len(m):]), "0123456789.,/") {
		v, err = decimal(strings.ReplaceAll(m, " ", ""), sys)
		return v, s[len(m):], err
	}
	m := simple.FindString(s)
	if m == "" {
		return 0, "", errNoNumber
	}
	v, err = decimal(m, sys)
	return v, s[len(m):], err
}

// first is the first byte of s, or nothing.
func first(s string) string { return s[:min(1, len(s))] }

// quotient reads a fraction as rulers and spoons have them.
func quotient(above, below string) (float64, error) {
	a, err1 := strconv.Atoi(above)
	b, err2 := strconv.Atoi(below)
	if err1 != nil || err2 != nil || b < 1 || b > 100 || a > 10000 {
		return 0, fmt.Errorf("%s/%s is not a fraction to measure by; write one such as 1/2 or 3/16", above, below)
	}
	return float64(a) / float64(b), nil
}

// decimal reads digits with points and commas. A single comma before three
// digits parts thousands to a studio on US units; to others it could be either,
// and is refused.
func decimal(s string, sys System) (float64, error) {
	if len(s) > mostDigits+4 {
		return 0, fmt.Errorf("%s has too many digits; %d are enough", s, mostDigits)
	}
	points, commas := strings.Count(s, "."), strings.Count(s, ",")
	text := s
	switch {
	case commas == 0 && points <= 1:
	case commas == 1 && points == 0 && triples.MatchString(s):
		if sys != US {
			return 0, fmt.Errorf("%s could be %s or %s; write the one you mean", s, strings.Replace(s, ",", ".", 1), strings.Replace(s, ",", "", 1))
		}
		text = strings.Replace(s, ",", "", 1)
	case commas == 1 && points == 0:
		text = strings.Replace(s, ",", ".", 1)
	default:
		var err error
		if text, err = ungroup(s, points, commas); err != nil {
			return 0, err
		}
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, fmt.Errorf("%s is not a number; write it like 1234.5", s)
	}
	return v, nil
}

// ungroup takes out the marks between thousands where the last mark, if it is
// another one, is the decimal one: 1,234.5 and 1.234,5 and 1,234,567.
func ungroup(s string, points, commas int) (string, error) {
	full, rest := s, ""
	if points > 0 && commas > 0 {
		at := strings.LastIndexAny(s, ".,")
		full, rest = s[:at], s[at+1:]
		if strings.Contains(full, s[at:at+1]) || rest == "" {
			return "", fmt.Errorf("%s is not a number; write it like 1234.5", s)
		}
	}
	if !triples.MatchString(full) {
		return "", fmt.Errorf("%s is not a number; write it like 1234.5", s)
	}
	full = strings.NewReplacer(",", "", ".", "").Replace(full)
	if rest == "" {
		return full, nil
	}
	return full + "." + rest, nil
}
