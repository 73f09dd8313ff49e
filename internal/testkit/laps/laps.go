// Package laps times the rounds of a benchmark one by one and reports the
// middle one, the one in twenty that takes longest, and processor time. A mean
// alone says little on a machine that others use too: the middle is hardly
// moved by them, and processor time only by their share of the caches.
package laps

import (
	"slices"
	"testing"
	"time"
)

// Laps are the rounds of one benchmark.
type Laps struct {
	wall  []time.Duration
	begun time.Duration // processor time of the process before the first
}

// Start begins to count. Preparations stand before it.
func Start() *Laps { return &Laps{wall: make([]time.Duration, 0, 4096), begun: processor()} }

// Do runs and times one round.
func (l *Laps) Do(round func()) {
	t := time.Now()
	round()
	l.wall = append(l.wall, time.Since(t))
}

// Report adds p50-ms, p95-ms and cpu-ms/op to the benchmark's line.
func (l *Laps) Report(b *testing.B) {
	if len(l.wall) == 0 {
		return
	}
	cpu := processor() - l.begun
	slices.Sort(l.wall)
	b.ReportMetric(ms(l.at(0.50)), "p50-ms")
	b.ReportMetric(ms(l.at(0.95)), "p95-ms")
	if cpu > 0 {
		b.ReportMetric(ms(cpu)/float64(len(l.wall)), "cpu-ms/op")
	}
}

// at is the lap below which the share p of them lies; the laps are sorted.
func (l *Laps) at(p float64) time.Duration { return l.wall[int(p*float64(len(l.wall)-1)+0.5)] }

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }
