package exact

import "math"

const zeroC = 273.15 // K

// Arrhenius is the damage law dOmega/dt = exp(LnA - ThetaK/T), T in kelvin, A in
// 1/s, ThetaK = Ea/R. Henriques 1947, Arch Pathol 43:489.
type Arrhenius struct {
	LnA, ThetaK float64
}

// Rate returns dOmega/dt in 1/s at tC degrees Celsius.
func (a Arrhenius) Rate(tC float64) float64 { return math.Exp(a.LnA - a.ThetaK/(tC+zeroC)) }

// TimeAt returns the time in s to Omega = 1 at constant temperature:
//
//	exp(ThetaK/T - LnA)
func (a Arrhenius) TimeAt(tC float64) float64 { return 1 / a.Rate(tC) }

// TemperatureFor returns the constant temperature in C that reaches Omega = 1 in t:
//
//	ThetaK/(LnA + ln t) - 273.15
func (a Arrhenius) TemperatureFor(t float64) float64 {
	return a.ThetaK/(a.LnA+math.Log(t)) - zeroC
}

// Omega returns the damage integral of the history tC(t), in C, over [0, end] s.
func (a Arrhenius) Omega(tC func(t float64) float64, end float64) float64 {
	return integrate(func(t float64) float64 { return a.Rate(tC(t)) }, 0, end, 256)
}

// CEM43Rate returns equivalent minutes at 43 C per minute at tC:
//
//	R^(43 - T),  R = 0.5 from 43 C upwards, 0.25 below
//
// Sapareto & Dewey 1984, Int J Radiat Oncol Biol Phys 10:787.
func CEM43Rate(tC float64) float64 {
	if tC < 43 {
		return math.Pow(0.25, 43-tC)
	}
	return math.Pow(0.5, 43-tC)
}

// CEM43 returns the thermal dose in minutes of the history tC(t) over [0, end] s.
func CEM43(tC func(t float64) float64, end float64) float64 {
	return integrate(func(t float64) float64 { return CEM43Rate(tC(t)) }, 0, end, 256) / 60
}
