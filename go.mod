module vatside

go 1.26.8

require (
	codeberg.org/go-fonts/dejavu v0.4.0 // indirect
	codeberg.org/go-pdf/fpdf v0.12.0 // indirect
	github.com/agnivade/levenshtein v1.2.2 // indirect
	github.com/bojanz/currency v1.4.2 // indirect
	github.com/chromedp/cdproto v0.159.0 // indirect
	github.com/chromedp/chromedp v0.23.0 // indirect
	github.com/cockroachdb/apd/v3 v3.2.1 // indirect
	github.com/evanw/esbuild v0.28.2 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/piglig/go-qr v1.1.0 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
)
