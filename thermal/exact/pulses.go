package exact

// Pulse is a source that gives the share Share of the one a solution is for, between two times, s.
type Pulse struct{ FromS, ToS, Share float64 }

// Superposed returns the rise at time t under pulses one after another, from the rise under a source that is on from
// t = 0:
//
//	sum of Share [rise(t - From) - rise(t - To)]
//
// Duhamel's theorem for sources that are switched, Carslaw & Jaeger 1959, 1.14: it holds as long as nothing depends
// on temperature.
func Superposed(rise func(t float64) float64, pulses []Pulse, t float64) float64 {
	sum := 0.0
	for _, p := range pulses {
		if t > p.FromS {
			sum += p.Share * rise(t-p.FromS)
		}
		if t > p.ToS {
			sum -= p.Share * rise(t-p.ToS)
		}
	}
	return sum
}
