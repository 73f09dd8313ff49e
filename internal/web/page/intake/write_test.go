package intake

import (
	"testing"
	"time"

	"vatside/internal/fault"
	"vatside/internal/intake"
)

// A defect met while a sheet is written down ends the work with a fault; the
// program goes on, and the page tells.
func TestDefectEndsTheWorkAlone(t *testing.T) {
	t.Parallel()
	p := New(nil, nil, time.Now, "") // no records: the first question is a defect
	job := &work{done: make(chan struct{})}
	p.write(t.Context(), job, intake.Source{})
	if !job.over() || job.err == nil || fault.KindOf(job.err) != fault.KindInternal {
		t.Errorf("the work is over: %v, with %v", job.over(), job.err)
	}
}
