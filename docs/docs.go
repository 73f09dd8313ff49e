// Package docs hands the glossary to the program, which shows it in the
// handbook: one text, read here and there.
package docs

import _ "embed"

// Glossary is docs/glossary.md.
//
//go:embed glossary.md
var Glossary string
