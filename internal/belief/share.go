package belief

// count takes one counted observation in. Each making's counts are discounted
// by 1 + (trials − 1)·rho, the design effect of sheets that share a making
// (Kish 1965).
func (p *pool) count(key string, o Observation, rho float64) {
	if _, ok := p.counts[key]; !ok {
		p.order = append(p.order, key)
	}
	p.counts[key] = p.counts[key].plus(o, rho)
}

func (c counted) plus(o Observation, rho float64) counted {
	w := 1 / (1 + max(o.Trials-1, 0)*rho)
	return counted{c.n + 1, c.hits + o.Hits*w, c.misses + (o.Trials-o.Hits)*w}
}

// Beta returns the posterior beta parameters of a Count belief: what others of
// its kind lend, and its own counts.
func (b Belief) Beta() (alpha, beta float64) {
	alpha, beta = b.lentBeta()
	var own counted
	for _, o := range b.Seen {
		if b.counts(o) {
			own = own.plus(o, b.Making)
		}
	}
	return alpha + own.hits, beta + own.misses
}

// lentBeta is the prior as the other beliefs of the kind leave it.
//
// Half of the prior's variance lies between studios and half between the
// beliefs of one: the studio's share is then beta of twice the parameters, and
// each belief's share lies around it with the correlation 1/(2(a + b + 1)), by
// which the counts of another belief are discounted as sheets of one making
// are. Back from the studio's share to this belief's the moments are matched;
// with nothing lent that gives the prior.
func (b Belief) lentBeta() (alpha, beta float64) {
	rho := 1 / (2 * (b.A + b.B + 1))
	alpha, beta = 2*b.A, 2*b.B
	lent := false
	if b.pool != nil {
		for _, key := range b.pool.order {
			if c := b.pool.counts[key]; key != b.Key {
				w := 1 / (1 + max(c.hits+c.misses-1, 0)*rho)
				alpha, beta, lent = alpha+c.hits*w, beta+c.misses*w, true
			}
		}
	}
	if !lent {
		return b.A, b.B
	}
	return scattered(alpha, beta, rho)
}

// scattered returns the beta parameters of a share that lies around a beta one
// with a correlation, moments matched.
func scattered(alpha, beta, rho float64) (float64, float64) {
	mean := alpha / (alpha + beta)
	between := mean * (1 - mean) / (alpha + beta + 1)
	within := rho * (mean*(1-mean) - between)
	size := mean*(1-mean)/(between+within) - 1
	return mean * size, (1 - mean) * size
}

// NextBeta returns the beta parameters of the next making's own share: the
// posterior widened by the spread from making to making, moments matched.
func (b Belief) NextBeta() (alpha, beta float64) {
	alpha, beta = b.Beta()
	return scattered(alpha, beta, b.Making)
}
