package exact

import "math"

// Coordinates here travel with the source: xi is positive ahead of it, y across
// the track, z into the half-space. Quasi-steady unless a time is given.

// MovingPoint returns the rise around a point source of power P (W) moving at v
// (m/s) on the insulated surface of a half-space:
//
//	P/(2 pi k R) e^(-v xi/2alpha - R sqrt((v/2alpha)^2 + G/k)),  R^2 = xi^2 + y^2 + z^2
//
// Rosenthal 1946, Trans ASME 68:849.
func MovingPoint(s Solid, powerW, v, xi, y, z float64) float64 {
	r := math.Sqrt(xi*xi + y*y + z*z)
	w := v / (2 * s.Alpha())
	return powerW / (2 * math.Pi * s.K * r) * math.Exp(-w*xi-r*math.Hypot(w, math.Sqrt(s.G/s.K)))
}

// MovingPointPeak returns the highest rise that the MovingPoint brings to a place
// at distance r from its track, the maximum over xi, where
//
//	xi/R^2 + w + xi/R sqrt(w^2 + G/k) = 0,  w = v/2alpha
func MovingPointPeak(s Solid, powerW, v, r float64) float64 {
	w := v / (2 * s.Alpha())
	c := math.Hypot(w, math.Sqrt(s.G/s.K))
	slope := func(xi float64) float64 {
		d := math.Hypot(xi, r)
		// Without perfusion c = w, and w(1 + xi/d) cancels far behind.
		if s.G == 0 {
			return xi/(d*d) + w*r*r/(d*(d-xi))
		}
		return xi/(d*d) + w + c*xi/d
	}
	far := -r
	for slope(far) > 0 {
		far *= 2
	}
	return MovingPoint(s, powerW, v, bisect(slope, far, 0), r, 0)
}

// MovingPointReach returns the distance from the track to which the rise dT is
// reached.
func MovingPointReach(s Solid, powerW, v, dT float64) float64 {
	// The peak falls with distance, and is below that of a source at rest.
	rest := powerW / (2 * math.Pi * s.K * dT)
	return bisect(func(r float64) float64 { return MovingPointPeak(s, powerW, v, r) - dT }, rest*1e-4, rest)
}

// MovingPointPeakFast is the limit of MovingPointPeak for high speed:
//
//	2/(pi e) P/(rho c v r^2)
func MovingPointPeakFast(s Solid, powerW, v, r float64) float64 {
	return 2 / (math.Pi * math.E) * powerW / (s.RhoC * v * r * r)
}

// MovingPointPlate returns MovingPoint for a plate of thickness d, insulated on
// both faces, as the sum of images at z = 2 m d.
func MovingPointPlate(s Solid, powerW, v, d, xi, y, z float64) float64 {
	sum := MovingPoint(s, powerW, v, xi, y, z)
	for m := 1.0; ; m++ {
		pair := MovingPoint(s, powerW, v, xi, y, z-2*m*d) + MovingPoint(s, powerW, v, xi, y, z+2*m*d)
		sum += pair
		if pair < 1e-14*sum {
			return sum
		}
	}
}

// MovingGaussian returns the rise at time t around a Gaussian disc (standard
// deviation sd, power P) on the insulated surface of a half-space, switched on
// at t = 0 and moving at v:
//
//	Int_0^t 2P/(rho c) e^(-beta tau) e^(-z^2/4 alpha tau)/sqrt(4 pi alpha tau)
//	    e^(-((xi + v tau)^2 + y^2)/2b)/(2 pi b) dtau,  b = sd^2 + 2 alpha tau
//
// At rest, steady, at the centre: P/(2 sqrt(2 pi) k sd). Cf. Eagar & Tsai 1983,
// Weld J 62:346s.
func MovingGaussian(s Solid, powerW, sd, v, xi, y, z, t float64) float64 {
	a := s.Alpha()
	f := func(u float64) float64 { // tau = u^2 takes away the root
		tau := u * u
		b := sd*sd + 2*a*tau
		e := -s.Beta()*tau - ((xi+v*tau)*(xi+v*tau)+y*y)/(2*b)
		if z != 0 {
			e -= z * z / (4 * a * tau)
		}
		return math.Exp(e) / b
	}
	return 2 * powerW / (s.RhoC * 2 * math.Pi * math.Sqrt(math.Pi*a)) * integrate(f, 0, math.Sqrt(t), 64)
}

// DiscAxis returns the rise on the axis at depth z under a disc of radius a that
// puts the even flux q (W/m2) into an unperfused half-space from t = 0:
//
//	2 q sqrt(alpha t)/k [ierfc(z/2 sqrt(alpha t)) - ierfc(sqrt(z^2 + a^2)/2 sqrt(alpha t))]
//
// Carslaw & Jaeger 1959, 10.5.
func DiscAxis(s Solid, q, a, z, t float64) float64 {
	if math.IsInf(t, 1) {
		return q / s.K * (math.Hypot(z, a) - z)
	}
	d := 2 * math.Sqrt(s.Alpha()*t)
	return q * d / s.K * (ierfc(z/d) - ierfc(math.Hypot(z, a)/d))
}

// MovingDisc returns the rise around an evenly heated disc of radius a and power
// P (W) moving at v on the insulated surface of a half-space: MovingPoint
// integrated over the disc in polar coordinates about the point looked at, which
// cancels its pole.
func MovingDisc(s Solid, powerW, a, v, xi, y, z float64) float64 {
	q := powerW / (math.Pi * a * a)
	// ray integrates along the ray that leaves the point at the angle phi against
	// the direction of travel, from the distance r1 to r2.
	ray := func(phi, r1, r2 float64) float64 {
		if r2 == 0 {
			return 0 // on the rim, looking out
		}
		c := math.Cos(phi)
		return integrate(func(r float64) float64 {
			// The source lies r cos(phi) ahead of the point: xi = -r cos(phi).
			return r * MovingPoint(s, q, v, -r*c, r*math.Sin(phi), z)
		}, r1, r2, 32)
	}
	d, toCentre := math.Hypot(xi, y), math.Atan2(-y, -xi)
	if d <= a {
		return integrate(func(psi float64) float64 {
			sin := d * math.Sin(psi)
			return ray(toCentre+psi, 0, d*math.Cos(psi)+math.Sqrt(math.Max(0, a*a-sin*sin)))
		}, -math.Pi, math.Pi, 16)
	}
	// From outside the disc fills the angles sin(psi) <= a/d; sin(psi) = (a/d) sin(chi).
	return integrate(func(chi float64) float64 {
		psi := math.Asin(a / d * math.Sin(chi))
		mid, half := d*math.Cos(psi), a*math.Cos(chi)
		return half / mid * ray(toCentre+psi, mid-half, mid+half)
	}, -math.Pi/2, math.Pi/2, 8)
}
