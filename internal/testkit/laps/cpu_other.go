//go:build !unix

package laps

import "time"

// processor is not known here: the benchmark then reports no processor time.
func processor() time.Duration { return 0 }
