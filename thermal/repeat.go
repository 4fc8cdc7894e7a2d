package thermal

// Repeat is one activation again and again on the same tissue. Zero: once.
type Repeat struct {
	Times        int
	PauseS       float64 // without current between two of them; after the last comes Case.AfterS
	BackAndForth bool    // every other one goes back along the track
}

// Activations returns how many activations the case has.
func (c *Case) Activations() int { return max(1, c.Repeat.Times) }

// activation returns the n-th activation, from 0, as a case of its own.
func (c *Case) activation(n int) *Case {
	a := *c
	a.Repeat = Repeat{}
	if n < c.Activations()-1 {
		a.AfterS = c.Repeat.PauseS
	}
	if c.Repeat.BackAndForth && n%2 == 1 {
		a.Motion.FromM, a.Motion.Back = c.Motion.atM(c.Motion.LengthM), !c.Motion.Back
	}
	return &a
}

// StartsS returns when each activation starts, s.
func (c *Case) StartsS() []float64 {
	starts := make([]float64, c.Activations())
	for n := 1; n < len(starts); n++ {
		starts[n] = starts[n-1] + c.activation(n-1).lengthS()
	}
	return starts
}

// ActivationAt returns which activation, from 0, was the last to start by time t, s, and how long before, s.
func (c *Case) ActivationAt(t float64) (n int, sinceS float64) {
	starts := c.StartsS()
	for n+1 < len(starts) && starts[n+1] <= t {
		n++
	}
	return n, t - starts[n]
}

// OnS returns the time with current of all activations, s.
func (c *Case) OnS() float64 { return float64(c.Activations()) * c.Drive.OnS }

// OffS returns when the current of the last activation ends, s.
func (c *Case) OffS() float64 {
	starts := c.StartsS()
	return starts[len(starts)-1] + c.Drive.OnS
}

// TotalS is the simulated time, current, pauses and cooling, in seconds.
func (c *Case) TotalS() float64 {
	starts := c.StartsS()
	return starts[len(starts)-1] + c.activation(len(starts)-1).lengthS()
}

// lengthS is the time of an activation and of what follows it, s.
func (c *Case) lengthS() float64 { return c.Drive.OnS + c.AfterS }
