// Package arithmetic re-evaluates the workings that sums print, such as
// "420 / (1 − 0.04)", so that a test can compare each with the result printed
// beside it.
//
// It knows numbers, brackets and the signs + − × ÷ / · ±, nothing else: no
// names, no powers. For tests only.
package arithmetic

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"
	"strings"
)

// Value is what a working comes to, and how far the rounding of the numbers
// printed in it may have moved that: half a unit of the seventh significant
// digit of each.
type Value struct{ Is, Slack float64 }

// signs are the printed signs as Go writes them.
var signs = strings.NewReplacer("×", "*", "·", "*", "÷", "/", "−", "-", "±", "+")

// Eval returns the value of a working.
func Eval(working string) (Value, error) {
	e, err := parser.ParseExpr(signs.Replace(working))
	if err != nil {
		return Value{}, fmt.Errorf("%q is no arithmetic: %w", working, err)
	}
	v, err := walk(e)
	if err != nil {
		return Value{}, fmt.Errorf("%q: %w", working, err)
	}
	if math.IsNaN(v.Is) || math.IsInf(v.Is, 0) {
		return Value{}, fmt.Errorf("%q comes to no number", working)
	}
	return v, nil
}

func walk(e ast.Expr) (Value, error) {
	switch x := e.(type) {
	case *ast.BasicLit:
		return literal(x)
	case *ast.ParenExpr:
		return walk(x.X)
	case *ast.UnaryExpr:
		v, err := walk(x.X)
		switch {
		case err != nil || x.Op == token.ADD:
			return v, err
		case x.Op == token.SUB:
			return Value{-v.Is, v.Slack}, nil
		}
		return Value{}, fmt.Errorf("the sign %s is not arithmetic of a sum", x.Op)
	case *ast.BinaryExpr:
		a, err := walk(x.X)
		if err != nil {
			return Value{}, err
		}
		b, err := walk(x.Y)
		if err != nil {
			return Value{}, err
		}
		return combine(x.Op, a, b)
	}
	return Value{}, fmt.Errorf("%T is not arithmetic of a sum", e)
}

// combine carries slack to first order.
func combine(op token.Token, a, b Value) (Value, error) {
	switch op {
	case token.ADD:
		return Value{a.Is + b.Is, a.Slack + b.Slack}, nil
	case token.SUB:
		return Value{a.Is - b.Is, a.Slack + b.Slack}, nil
	case token.MUL:
		return Value{a.Is * b.Is, a.Slack*math.Abs(b.Is) + b.Slack*math.Abs(a.Is)}, nil
	case token.QUO:
		q := a.Is / b.Is
		return Value{q, (a.Slack + math.Abs(q)*b.Slack) / math.Abs(b.Is)}, nil
	}
	return Value{}, fmt.Errorf("the sign %s is not arithmetic of a sum", op)
}

func literal(l *ast.BasicLit) (Value, error) {
	if l.Kind != token.INT && l.Kind != token.FLOAT {
		return Value{}, fmt.Errorf("%s is not a number", l.Value)
	}
	v, err := strconv.ParseFloat(l.Value, 64)
	return Value{v, Half(v, 7)}, err
}

// Half returns half a unit of the given significant digit of v.
func Half(v float64, digit int) float64 {
	if v == 0 {
		return 0
	}
	return 0.5 * math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-float64(digit)+1)
}

// Result splits a printed result such as "−1.2 g/m²" or "63 sheets" into its
// number and unit.
func Result(text string) (v float64, unit string, err error) {
	number, unit, _ := strings.Cut(text, " ")
	v, err = strconv.ParseFloat(signs.Replace(number), 64)
	if err != nil {
		return 0, "", fmt.Errorf("%q starts with no number: %w", text, err)
	}
	return v, unit, nil
}

// Agree returns nil if the working comes to the printed result, within half a
// unit of its fifth significant digit and the rounding of the printed numbers.
func Agree(working, result string) error {
	got, err := Eval(working)
	if err != nil {
		return err
	}
	want, _, err := Result(result)
	if err != nil {
		return err
	}
	if off := math.Abs(got.Is - want); off > Half(want, 5)*1.000001+got.Slack+1e-12 {
		return fmt.Errorf("%q comes to %.9g, and %q is printed", working, got.Is, result)
	}
	return nil
}
