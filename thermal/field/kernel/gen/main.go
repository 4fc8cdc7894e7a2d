// Command gen writes the vector kernels of package kernel as Go assembly for AVX2. Each equals,
// bit for bit, the loop of the same name in plain.go: the same operations on eight lanes at a
// time in the same order, none of them fused.
package main

import (
	"math"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

const (
	lane   = 4          // bytes of a number
	vector = 8 * lane   // of the lanes of a Field
	links  = 4 * vector // of those of Links or Halves
)

// The parts of Links and Halves.
const (
	x = iota * vector
	y
	z
	d
)

const w, e = x, d // of Halves: towards the west and the east

func main() {
	ConstraintExpr("amd64")
	tables()
	couple()
	factor("factorAVX2", false)
	factor("factorLastAVX2", true)
	lift()
	backward("backwardAVX2", 1)
	backward("backwardPairAVX2", 2)
	forward("forwardAVX2", 1, false)
	forward("forwardPairAVX2", 2, false)
	forward("forwardLastAVX2", 1, true)
	forward("forwardLastPairAVX2", 2, true)
	update()
	joule()
	potential()
	mixed()
	energies()
	inflow()
	dot()
	pack()
	unpack()
	Generate()
}

var southTable, northTable, constants Mem

// Places of the constants.
const (
	one = iota * lane
	two
	relax
	least
	hollow
	largest
	nothing
	infinite
)

func tables() {
	southTable = GLOBL("southLanes", RODATA|NOPTR)
	for i, v := range []uint32{0, 0, 1, 2, 3, 4, 5, 6} {
		DATA(4*i, U32(v))
	}
	northTable = GLOBL("northLanes", RODATA|NOPTR)
	for i, v := range []uint32{1, 2, 3, 4, 5, 6, 7, 7} {
		DATA(4*i, U32(v))
	}
	constants = GLOBL("constants", RODATA|NOPTR)
	for i, v := range []float32{1, 2, 0.98, 1e-3, 1e-20, math.MaxFloat32, 1e20, float32(math.Inf(1))} {
		DATA(4*i, U32(math.Float32bits(v))) // F32 writes a whole number as an integer
	}
}

// start begins a kernel.
func start(name, parameters, result string) {
	TEXT(name, NOSPLIT, "func("+parameters+") "+result)
	Pragma("noescape")
}

// array is a parameter that points to vectors, or to quadruples of them.
type array struct {
	base reg.Register
	size int // bytes of a step
}

func field(name string) array { return array{Load(Param(name), GP64()), vector} }
func quads(name string) array { return array{Load(Param(name), GP64()), links} }

// loop is over the vectors; i is where it is, in bytes of a Field.
type loop struct{ i, n reg.GPVirtual }

func upwards() loop {
	l := loop{GP64(), GP64()}
	Load(Param("n"), l.n)
	SHLQ(Imm(5), l.n)
	XORQ(l.i, l.i)
	Label("next")
	return l
}

func (l loop) up() {
	ADDQ(Imm(vector), l.i)
	CMPQ(l.i, l.n)
	JLT(LabelRef("next"))
}

// at addresses part of step i+steps of a.
func (l loop) at(a array, steps, part int) Mem {
	return Mem{Base: a.base, Index: l.i, Scale: uint8(a.size / vector), Disp: steps*a.size + part}
}

// shifted is at, moved by so many bytes.
func shifted(m Mem, bytes int) Mem { m.Disp += bytes; return m }

func load(m Mem) reg.VecVirtual {
	v := YMM()
	VMOVUPS(m, v)
	return v
}

func constant(at int) reg.VecVirtual {
	v := YMM()
	VBROADCASTSS(shifted(constants, at), v)
	return v
}

func zero() reg.VecVirtual {
	v := YMM()
	VXORPS(v, v, v)
	return v
}

func set(from, to reg.VecVirtual) { VMOVAPS(from, to) }

func table(m Mem) reg.VecVirtual {
	v := YMM()
	VMOVDQU(m, v)
	return v
}

// Arithmetic; m may be a register or memory.
func add(v reg.VecVirtual, m Op) reg.VecVirtual { o := YMM(); VADDPS(m, v, o); return o }
func mul(v reg.VecVirtual, m Op) reg.VecVirtual { o := YMM(); VMULPS(m, v, o); return o }
func sub(v reg.VecVirtual, m Op) reg.VecVirtual { o := YMM(); VSUBPS(m, v, o); return o }
func div(v reg.VecVirtual, m Op) reg.VecVirtual { o := YMM(); VDIVPS(m, v, o); return o }

// southOf returns v with every lane moved up by one and the lane below from edge.
func southOf(v, lanes, edge reg.VecVirtual) reg.VecVirtual {
	o := YMM()
	VPERMPS(v, lanes, o)
	VBLENDPS(Imm(0x01), edge, o, o)
	return o
}

// northOf is its counterpart.
func northOf(v, lanes, edge reg.VecVirtual) reg.VecVirtual {
	o := YMM()
	VPERMPS(v, lanes, o)
	VBLENDPS(Imm(0x80), edge, o, o)
	return o
}

// south loads at m what southOf would return of the step before.
func (l loop) south(m, edge Mem) reg.VecVirtual {
	v, o := YMM(), YMM()
	VBROADCASTSS(edge, v)
	VMOVUPS(m, o)
	VBLENDPS(Imm(0x01), v, o, o)
	return o
}

func (l loop) north(m, edge Mem) reg.VecVirtual {
	v, o := YMM(), YMM()
	VBROADCASTSS(edge, v)
	VMOVUPS(m, o)
	VBLENDPS(Imm(0x80), v, o, o)
	return o
}

func broadcast(m Mem) reg.VecVirtual {
	v := YMM()
	VBROADCASTSS(m, v)
	return v
}

// scalarProduct returns the product of two numbers in every lane.
func scalarProduct(a, b Mem) reg.VecVirtual {
	s, v := XMM(), YMM()
	VMOVSS(a, s)
	VMULSS(b, s, s)
	VBROADCASTSS(s, v)
	return v
}

// sum adds up numbers in double precision.
type sum struct{ low, high reg.VecVirtual }

func newSum() sum { return sum{zero(), zero()} }

func (s sum) add(v reg.VecVirtual) {
	a, b, h := YMM(), YMM(), XMM()
	VCVTPS2PD(v.AsX(), a)
	VEXTRACTF128(Imm(1), v, h)
	VCVTPS2PD(h, b)
	VADDPD(a, s.low, s.low)
	VADDPD(b, s.high, s.high)
}

func (s sum) store(result int) {
	a, h := YMM(), XMM()
	VADDPD(s.high, s.low, a)
	VEXTRACTF128(Imm(1), a, h)
	VADDPD(h, a.AsX(), h)
	u := XMM()
	VUNPCKHPD(h, h, u)
	VADDSD(u, h, h)
	Store(h, ReturnIndex(result))
}

func end() {
	VZEROUPPER()
	RET()
}

func couple() {
	start("coupleAVX2", "n int, rho *[8]float32, half *[4][8]float32, faces *[4][8]float32, rhoEdge *[8]float32, halfEdge *[4][8]float32, rhoUp *[8]float32, halfUp *[4][8]float32", "")
	rho, half, g := field("rho"), quads("half"), quads("faces")
	rhoEdge, halfEdge, rhoUp, halfUp := field("rhoEdge"), quads("halfEdge"), field("rhoUp"), quads("halfUp")
	unit, none, lanes := constant(one), zero(), table(southTable)
	east := mul(load(Mem{Base: rho.base, Disp: -vector}), Mem{Base: half.base, Disp: -links + e})
	across := mul(load(Mem{Base: rho.base, Disp: -vector}), Mem{Base: half.base, Disp: -links + y})
	l := upwards()
	here := load(l.at(rho, 0, 0))
	VMOVUPS(div(unit, add(east, mul(here, l.at(half, 0, w)))), l.at(g, 0, x))
	set(mul(here, l.at(half, 0, e)), east)
	south := southOf(across, lanes, scalarProduct(shifted(l.at(rhoEdge, 0, 0), 7*lane), shifted(l.at(halfEdge, 0, y), 7*lane)))
	set(mul(here, l.at(half, 0, y)), across)
	VMOVUPS(div(unit, add(south, across)), l.at(g, 0, y))
	up := mul(load(l.at(rhoUp, 0, 0)), l.at(halfUp, 0, z))
	VMOVUPS(div(unit, add(up, mul(here, l.at(half, 0, z)))), l.at(g, 0, z))
	VMOVUPS(none, l.at(g, 0, d))
	l.up()
	end()
}

// factor is that of planes one after another; last, that of the middle one, which has a plane before it on either side.
// Parameters are loaded late, within the loop, where registers do not hold all of them.
func factor(name string, isLast bool) {
	more := ""
	if isLast {
		more = ", gDown, lDown *[4][8]float32, scaleDown, wzDown *[8]float32"
	}
	start(name, "n int, faces, gBefore, gAfter, gNorth, l, lBefore *[4][8]float32, scale, inverse, ws, wz, scaleSouth, wsSouth, scaleBefore, wzBefore *[8]float32"+more, "")
	g, gBefore, gAfter, lk, lBefore := quads("faces"), quads("gBefore"), quads("gAfter"), quads("l"), quads("lBefore")
	scale, ws, wz := field("scale"), field("ws"), field("wz")
	scaleSouth, wsSouth := field("scaleSouth"), field("wsSouth")
	lanes := table(southTable)
	wx, wy, west := zero(), zero(), zero()
	l := upwards()
	gw, gs, gb := load(l.at(g, 0, x)), load(l.at(g, 0, y)), load(l.at(gBefore, 0, z))
	ge, ga := load(l.at(g, 1, x)), load(l.at(gAfter, 0, z))
	gn := l.north(shifted(l.at(g, 1, y), lane), l.at(quads("gNorth"), 0, y))
	beyond := add(gb, ga)
	if isLast {
		beyond = add(beyond, l.at(quads("gDown"), 0, z))
	}
	diagonal := add(add(add(gw, ge), add(gs, gn)), add(beyond, l.at(g, 0, d)))
	from := add(add(wx, southOf(wy, lanes, broadcast(shifted(l.at(wsSouth, 0, 0), 7*lane)))), l.at(field("wzBefore"), 0, 0))
	if isLast {
		from = add(from, l.at(field("wzDown"), 0, 0))
	}
	pivot, floor := sub(diagonal, from), mul(constant(least), diagonal)
	VMAXPS(floor, pivot, pivot)
	tissue := YMM()
	VCMPPS(Imm(13), constant(hollow), diagonal, tissue) // diagonal >= hollow
	inv, s := div(constant(one), pivot), YMM()
	VANDPS(tissue, inv, inv)
	VSQRTPS(inv, s)
	VMOVUPS(mul(mul(gw, s), west), l.at(lk, 0, x))
	VMOVUPS(mul(mul(gs, s), southOf(west, lanes, broadcast(shifted(l.at(scaleSouth, 0, 0), 7*lane)))), l.at(lk, 0, y))
	VMOVUPS(mul(mul(gb, s), l.at(field("scaleBefore"), 0, 0)), l.at(lBefore, 0, z))
	if isLast {
		down := mul(s, l.at(quads("gDown"), 0, z))
		VMOVUPS(mul(down, l.at(field("scaleDown"), 0, 0)), l.at(quads("lDown"), 0, z))
	}
	VMOVUPS(sub(mul(diagonal, inv), constant(two)), l.at(lk, 0, d))
	VMOVUPS(s, l.at(scale, 0, 0))
	VMOVUPS(mul(pivot, s), l.at(field("inverse"), 0, 0))
	set(s, west)
	rel := constant(relax)
	weight := func(g, a, b reg.VecVirtual) reg.VecVirtual {
		return mul(mul(g, add(g, mul(rel, add(a, b)))), inv)
	}
	set(weight(ge, gn, ga), wx)
	set(weight(gn, ge, ga), wy)
	VMOVUPS(wy, l.at(ws, 0, 0))
	VMOVUPS(weight(ga, ge, gn), l.at(wz, 0, 0))
	l.up()
	end()
}

func lift() {
	start("liftAVX2", "n int, t *[8]float32, l *[4][8]float32, p, tNorth *[8]float32, lNorth *[4][8]float32, tAfter *[8]float32, lAfter *[4][8]float32", "")
	t, lk, p := field("t"), quads("l"), field("p")
	tNorth, lNorth, tAfter, lAfter := field("tNorth"), quads("lNorth"), field("tAfter"), quads("lAfter")
	l := upwards()
	v := sub(load(l.at(t, 0, 0)), mul(load(l.at(lk, 1, x)), l.at(t, 1, 0)))
	north := mul(load(shifted(l.at(lk, 1, y), lane)), shifted(l.at(t, 1, 0), lane))
	VBLENDPS(Imm(0x80), scalarProduct(l.at(lNorth, 0, y), l.at(tNorth, 0, 0)), north, north)
	v = sub(v, north)
	v = sub(v, mul(load(l.at(lAfter, 0, z)), l.at(tAfter, 0, 0)))
	VMOVUPS(v, l.at(p, 0, 0))
	l.up()
	end()
}

// streams has the indices of so many stretches of a kernel, the first of which is l: the second is beside steps further on.
func (l loop) streams(n int) []loop {
	if n == 1 {
		return []loop{l}
	}
	second := loop{i: GP64()}
	Load(Param("beside"), second.i)
	SHLQ(Imm(5), second.i)
	ADDQ(l.i, second.i)
	return []loop{l, second}
}

func parameters(streams int) string {
	if streams == 1 {
		return "n int, "
	}
	return "n, beside int, "
}

func backward(name string, streams int) {
	start(name, parameters(streams)+"beta, share float32, r, con, p *[8]float32, l *[4][8]float32, t, tNorth *[8]float32, lNorth *[4][8]float32, tAfter *[8]float32, lAfter *[4][8]float32", "")
	r, con, p, lk, t := field("r"), field("con"), field("p"), quads("l"), field("t")
	tNorth, lNorth, tAfter, lAfter := field("tNorth"), quads("lNorth"), field("tAfter"), quads("lAfter")
	beta, share, lanes := argument("beta"), argument("share"), table(northTable)
	l := loop{i: GP64()}
	Load(Param("n"), l.i)
	DECQ(l.i)
	SHLQ(Imm(5), l.i)
	both := l.streams(streams)
	var v []reg.VecVirtual
	for _, l := range both {
		v = append(v, load(l.at(t, 1, 0)))
	}
	Label("next")
	var own, all []reg.VecVirtual
	for _, l := range both {
		q := sub(add(load(l.at(r, 0, 0)), mul(beta, l.at(p, 0, 0))), mul(share, l.at(con, 0, 0)))
		own = append(own, q)
		all = append(all, add(q, mul(load(l.at(lAfter, 0, z)), l.at(tAfter, 0, 0))))
	}
	for i, l := range both {
		north := northOf(mul(v[i], l.at(lk, 1, y)), lanes, scalarProduct(l.at(lNorth, 0, y), l.at(tNorth, 0, 0)))
		set(add(add(all[i], mul(v[i], l.at(lk, 1, x))), north), v[i])
	}
	for i, l := range both {
		VMOVUPS(own[i], l.at(p, 0, 0))
		VMOVUPS(v[i], l.at(t, 0, 0))
	}
	for _, other := range both[1:] {
		SUBQ(Imm(vector), other.i)
	}
	SUBQ(Imm(vector), l.i)
	JGE(LabelRef("next"))
	end()
}

// forward is that of planes one after another; last, that of the middle one.
func forward(name string, streams int, isLast bool) {
	more := ""
	if isLast {
		more = ", uDown *[8]float32, lDown *[4][8]float32"
	}
	start(name, parameters(streams)+"p, t *[8]float32, l *[4][8]float32, u, uSouth, uBefore *[8]float32, lBefore *[4][8]float32"+more, "float64")
	p, t, lk, u := field("p"), field("t"), quads("l"), field("u")
	uSouth, uBefore, lBefore := field("uSouth"), field("uBefore"), quads("lBefore")
	var uDown, lDown array
	if isLast {
		uDown, lDown = field("uDown"), quads("lDown")
	}
	lanes := table(southTable)
	l := loop{GP64(), GP64()}
	Load(Param("n"), l.n)
	SHLQ(Imm(5), l.n)
	XORQ(l.i, l.i)
	both := l.streams(streams)
	var v []reg.VecVirtual
	var total []sum
	for _, l := range both {
		v, total = append(v, load(l.at(u, -1, 0))), append(total, newSum())
	}
	Label("next")
	var own []reg.VecVirtual
	for _, l := range both {
		q := add(load(l.at(p, 0, 0)), mul(load(l.at(t, 0, 0)), l.at(lk, 0, d)))
		q = add(q, mul(load(l.at(lBefore, 0, z)), l.at(uBefore, 0, 0)))
		if isLast {
			q = add(q, mul(load(l.at(lDown, 0, z)), l.at(uDown, 0, 0)))
		}
		own = append(own, q)
	}
	for i, l := range both {
		south := southOf(v[i], lanes, broadcast(shifted(l.at(uSouth, 0, 0), 7*lane)))
		set(add(add(own[i], mul(v[i], l.at(lk, 0, x))), mul(south, l.at(lk, 0, y))), v[i])
	}
	for i, l := range both {
		total[i].add(mul(add(v[i], l.at(t, 0, 0)), l.at(p, 0, 0)))
		VMOVUPS(v[i], l.at(u, 0, 0))
	}
	for _, other := range both[1:] {
		ADDQ(Imm(vector), other.i)
	}
	l.up()
	for _, other := range total[1:] {
		VADDPD(other.low, total[0].low, total[0].low)
		VADDPD(other.high, total[0].high, total[0].high)
	}
	total[0].store(0)
	end()
}

func update() {
	start("updateAVX2", "n int, alpha float32, t, u, c, y, r *[8]float32", "(rr, cr float64)")
	t, u, c, yy, r := field("t"), field("u"), field("c"), field("y"), field("r")
	alpha := argument("alpha")
	rr, cr := newSum(), newSum()
	l := upwards()
	tt := load(l.at(t, 0, 0))
	v := sub(load(l.at(r, 0, 0)), mul(alpha, add(tt, l.at(u, 0, 0))))
	along := add(mul(alpha, tt), l.at(yy, 0, 0))
	rr.add(mul(v, v))
	cr.add(mul(v, l.at(c, 0, 0)))
	VMOVUPS(along, l.at(yy, 0, 0))
	VMOVUPS(v, l.at(r, 0, 0))
	l.up()
	rr.store(0)
	cr.store(1)
	end()
}

func joule() {
	start("jouleAVX2", "n int, phi, rho *[8]float32, half, faces *[4][8]float32, q, phiSouth, phiNorth *[8]float32, gNorth *[4][8]float32, phiUp, phiDown *[8]float32, gDown *[4][8]float32", "float64")
	phi, rho, half, g, q := field("phi"), field("rho"), quads("half"), quads("faces"), field("q")
	phiSouth, phiNorth, gNorth := field("phiSouth"), field("phiNorth"), quads("gNorth")
	phiUp, phiDown, gDown := field("phiUp"), field("phiDown"), quads("gDown")
	big, total := constant(largest), newSum()
	l := upwards()
	square := func(g reg.VecVirtual, here reg.VecVirtual, there Op) reg.VecVirtual {
		i := mul(g, sub(here, there))
		return mul(i, i)
	}
	here := load(l.at(phi, 0, 0))
	west := square(load(l.at(g, 0, x)), here, l.at(phi, -1, 0))
	east := square(load(l.at(g, 1, x)), here, l.at(phi, 1, 0))
	along := add(mul(west, l.at(half, 0, w)), mul(east, l.at(half, 0, e)))
	south := square(load(l.at(g, 0, y)), here, l.south(shifted(l.at(phi, -1, 0), -lane), shifted(l.at(phiSouth, 0, 0), 7*lane)))
	north := square(l.north(shifted(l.at(g, 1, y), lane), l.at(gNorth, 0, y)), here, l.north(shifted(l.at(phi, 1, 0), lane), l.at(phiNorth, 0, 0)))
	across := mul(add(south, north), l.at(half, 0, y))
	up := square(load(l.at(g, 0, z)), here, l.at(phiUp, 0, 0))
	down := square(load(l.at(gDown, 0, z)), here, l.at(phiDown, 0, 0))
	across = add(across, mul(add(up, down), l.at(half, 0, z)))
	r := load(l.at(rho, 0, 0))
	v, tissue := mul(add(along, across), r), YMM()
	VCMPPS(Imm(2), big, r, tissue) // rho <= largest
	VANDPS(tissue, v, v)
	VMOVUPS(v, l.at(q, 0, 0))
	total.add(v)
	l.up()
	total.store(0)
	end()
}

func potential() {
	start("potentialAVX2", "n int, base float32, scale, y, phi *[8]float32", "")
	scale, yy, phi := field("scale"), field("y"), field("phi")
	base, none := argument("base"), zero()
	l := upwards()
	c, tissue := load(l.at(scale, 0, 0)), YMM()
	v := add(base, mul(c, l.at(yy, 0, 0)))
	VCMPPS(Imm(14), none, c, tissue) // c > 0
	VANDPS(tissue, v, v)
	VMOVUPS(v, l.at(phi, 0, 0))
	l.up()
	end()
}

func mixed() {
	start("mixedAVX2", "n int, alpha, beta float32, a, b, c, v, y *[8]float32", "")
	a, b, c, v, yy := field("a"), field("b"), field("c"), field("v"), field("y")
	alpha, beta := argument("alpha"), argument("beta")
	l := upwards()
	m := add(mul(alpha, l.at(a, 0, 0)), mul(beta, l.at(b, 0, 0)))
	VMOVUPS(m, l.at(v, 0, 0))
	VMOVUPS(mul(m, l.at(c, 0, 0)), l.at(yy, 0, 0))
	l.up()
	end()
}

func energies() {
	start("energiesAVX2", "n int, a, b *[8]float32, faces *[4][8]float32, aSouth, bSouth, aUp, bUp *[8]float32", "(aa, ad, dd float64)")
	a, b, g := field("a"), field("b"), quads("faces")
	aSouth, bSouth, aUp, bUp := field("aSouth"), field("bSouth"), field("aUp"), field("bUp")
	aa, ad, dd := newSum(), newSum(), newSum()
	l := upwards()
	hereA, hereB := load(l.at(a, 0, 0)), load(l.at(b, 0, 0))
	var a2, am, d2 reg.VecVirtual
	face := func(part int, beyondA, beyondB Op) {
		da := sub(hereA, beyondA)
		d := sub(da, sub(hereB, beyondB))
		ia, id := mul(da, l.at(g, 0, part)), mul(d, l.at(g, 0, part))
		if part == x {
			a2, am, d2 = mul(ia, da), mul(ia, d), mul(id, d)
			return
		}
		a2, am, d2 = add(a2, mul(ia, da)), add(am, mul(ia, d)), add(d2, mul(id, d))
	}
	face(x, l.at(a, -1, 0), l.at(b, -1, 0))
	face(y, l.south(shifted(l.at(a, -1, 0), -lane), shifted(l.at(aSouth, 0, 0), 7*lane)),
		l.south(shifted(l.at(b, -1, 0), -lane), shifted(l.at(bSouth, 0, 0), 7*lane)))
	face(z, l.at(aUp, 0, 0), l.at(bUp, 0, 0))
	aa.add(a2)
	ad.add(am)
	dd.add(d2)
	l.up()
	aa.store(0)
	ad.store(1)
	dd.store(2)
	end()
}

func inflow() {
	start("inflowAVX2", "n int, v *[8]float32, faces *[4][8]float32, scale, out, vSouth, vNorth *[8]float32, gNorth *[4][8]float32, vUp, vDown *[8]float32, gDown *[4][8]float32", "")
	v, g, scale, out := field("v"), quads("faces"), field("scale"), field("out")
	vSouth, vNorth, gNorth := field("vSouth"), field("vNorth"), quads("gNorth")
	vUp, vDown, gDown := field("vUp"), field("vDown"), quads("gDown")
	l := upwards()
	here := load(l.at(v, 0, 0))
	through := func(beyond reg.VecVirtual, g Op) reg.VecVirtual { return mul(sub(beyond, here), g) }
	i := add(through(load(l.at(v, -1, 0)), l.at(g, 0, x)), through(load(l.at(v, 1, 0)), l.at(g, 1, x)))
	south := l.south(shifted(l.at(v, -1, 0), -lane), shifted(l.at(vSouth, 0, 0), 7*lane))
	north := l.north(shifted(l.at(v, 1, 0), lane), l.at(vNorth, 0, 0))
	gn := l.north(shifted(l.at(g, 1, y), lane), l.at(gNorth, 0, y))
	i = add(i, add(through(south, l.at(g, 0, y)), through(north, gn)))
	i = add(i, add(through(load(l.at(vUp, 0, 0)), l.at(g, 0, z)), through(load(l.at(vDown, 0, 0)), l.at(gDown, 0, z))))
	VMOVUPS(mul(i, l.at(scale, 0, 0)), l.at(out, 0, 0))
	l.up()
	end()
}

func dot() {
	start("dotAVX2", "n int, a, b *[8]float32", "float64")
	a, b := field("a"), field("b")
	total := newSum()
	l := upwards()
	total.add(mul(load(l.at(a, 0, 0)), l.at(b, 0, 0)))
	l.up()
	total.store(0)
	end()
}

// block addresses the numbers of eight rows that stand at one step, lane by lane: each row lies stride bytes after the
// one before it.
type block struct {
	lower, upper        reg.GPVirtual // first and fifth row
	stride, threeStride reg.GPVirtual
}

func newBlock(base, stride string) block {
	b := block{GP64(), GP64(), GP64(), GP64()}
	Load(Param(base), b.lower)
	Load(Param(stride), b.stride)
	SHLQ(Imm(3), b.stride)
	LEAQ(Mem{Base: b.stride, Index: b.stride, Scale: 2}, b.threeStride)
	LEAQ(Mem{Base: b.lower, Index: b.stride, Scale: 4}, b.upper)
	return b
}

func (b block) at(row int) Mem {
	base := b.lower
	if row >= 4 {
		base = b.upper
	}
	return [...]Mem{{Base: base}, {Base: base, Index: b.stride, Scale: 1}, {Base: base, Index: b.stride, Scale: 2}, {Base: base, Index: b.threeStride, Scale: 1}}[row%4]
}

func (b block) next() {
	ADDQ(Imm(4*8), b.lower)
	ADDQ(Imm(4*8), b.upper)
}

// turned returns four by four numbers turned about their diagonal, in the lower and the upper halves alike.
func turned(v [4]reg.VecVirtual) [4]reg.VecVirtual {
	ab, cd, abHigh, cdHigh := YMM(), YMM(), YMM(), YMM()
	VUNPCKLPS(v[1], v[0], ab)
	VUNPCKLPS(v[3], v[2], cd)
	VUNPCKHPS(v[1], v[0], abHigh)
	VUNPCKHPS(v[3], v[2], cdHigh)
	o := [4]reg.VecVirtual{YMM(), YMM(), YMM(), YMM()}
	VUNPCKLPD(cd, ab, o[0])
	VUNPCKHPD(cd, ab, o[1])
	VUNPCKLPD(cdHigh, abHigh, o[2])
	VUNPCKHPD(cdHigh, abHigh, o[3])
	return o
}

func pack() {
	start("packAVX2", "groups, stride int, v *float64, f *[8]float32", "")
	b, f, n := newBlock("v", "stride"), field("f"), GP64()
	Load(Param("groups"), n)
	limit, void := constant(nothing), constant(infinite)
	Label("next")
	var v [4]reg.VecVirtual
	for i := range v {
		low, high := XMM(), XMM()
		VCVTPD2PSY(b.at(i), low)
		VCVTPD2PSY(b.at(i+4), high)
		v[i] = YMM()
		VINSERTF128(Imm(1), high, low.AsY(), v[i])
	}
	for i, o := range turned(v) {
		none := YMM()
		VCMPPS(Imm(14), limit, o, none) // o > limit
		VBLENDVPS(none, void, o, o)
		VMOVUPS(o, Mem{Base: f.base, Disp: i * vector})
	}
	b.next()
	ADDQ(Imm(4*vector), f.base)
	DECQ(n)
	JNE(LabelRef("next"))
	end()
}

func unpack() {
	start("unpackAVX2", "groups, stride int, f *[8]float32, v *float64", "")
	b, f, n := newBlock("v", "stride"), field("f"), GP64()
	Load(Param("groups"), n)
	Label("next")
	var v [4]reg.VecVirtual
	for i := range v {
		v[i] = load(Mem{Base: f.base, Disp: i * vector})
	}
	for i, o := range turned(v) {
		low, high, half := YMM(), YMM(), XMM()
		VCVTPS2PD(o.AsX(), low)
		VEXTRACTF128(Imm(1), o, half)
		VCVTPS2PD(half, high)
		VMOVUPD(low, b.at(i))
		VMOVUPD(high, b.at(i+4))
	}
	b.next()
	ADDQ(Imm(4*vector), f.base)
	DECQ(n)
	JNE(LabelRef("next"))
	end()
}

// argument is a parameter in every lane.
func argument(name string) reg.VecVirtual {
	a, err := Param(name).Resolve()
	if err != nil {
		panic(err)
	}
	v := YMM()
	VBROADCASTSS(a.Addr, v)
	return v
}
