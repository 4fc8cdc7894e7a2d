// Command gen writes the vector kernels of package kernel as Go assembly for AVX2. Each equals, bit for bit, the loop of
// the same name in plain.go: the same operations on four lanes at a time in the same order, none of them fused.
package main

import (
	"math"
	"strings"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

const vector = 4 * 8 // bytes

func main() {
	ConstraintExpr("amd64")
	numbers()
	step("stepFlatAVX2", false)
	step("stepAVX2", true)
	outside()
	resist()
	heated()
	gather()
	keep()
	scaled()
	over()
	changed()
	rates()
	Generate()
}

// start begins a kernel; fields are parameters that point to cells.
func start(name, before string, fields []string, after, result string) map[string]reg.Register {
	list := before + strings.Join(fields, ", ") + " *float64" + after
	TEXT(name, NOSPLIT, "func("+list+") "+result)
	Pragma("noescape")
	base := map[string]reg.Register{}
	for _, f := range fields {
		base[f] = Load(Param(f), GP64())
	}
	return base
}

func load(m Mem) reg.VecVirtual { v := YMM(); VMOVUPD(m, v); return v }
func zero() reg.VecVirtual      { v := YMM(); VXORPD(v, v, v); return v }

// constant is a parameter in every lane.
func constant(name string) reg.VecVirtual {
	a, err := Param(name).Resolve()
	if err != nil {
		panic(err)
	}
	v := YMM()
	VBROADCASTSD(a.Addr, v)
	return v
}

// Arithmetic; m may be a register or memory.
func add(v reg.VecVirtual, m Op) reg.VecVirtual { o := YMM(); VADDPD(m, v, o); return o }
func mul(v reg.VecVirtual, m Op) reg.VecVirtual { o := YMM(); VMULPD(m, v, o); return o }
func sub(v reg.VecVirtual, m Op) reg.VecVirtual { o := YMM(); VSUBPD(m, v, o); return o }

// step has, with rows, faces in y too. Few registers are left for those: their fields are loaded where they are used.
func step(name string, rows bool) {
	fields := []string{"next", "t", "source", "blood", "per", "x", "z", "up", "down", "zUp"}
	late := []string{"north", "south", "yNorth", "y"}
	after := ", h, bloodC, scale, hot float64, perfusionSum, sourceSum *[4]float64"
	if rows {
		after += ", " + strings.Join(late, ", ") + " *float64"
	}
	base := start(name, "n int, ", fields, after, "uint64")
	i, n := GP64(), GP64()
	Load(Param("n"), n)
	SHLQ(Imm(3), n)
	XORQ(i, i)
	h, bloodC, scale, hot := constant("h"), constant("bloodC"), constant("scale"), constant("hot")
	perfusion, heat, any := zero(), zero(), zero()

	Label("next")
	at := func(name string, cells int) Mem {
		b, ok := base[name]
		if !ok {
			b = Load(Param(name), GP64())
		}
		return Mem{Base: b, Index: i, Scale: 1, Disp: 8 * cells}
	}
	t := load(at("t", 0))
	f := mul(sub(load(at("t", 1)), t), at("x", 0))
	f = sub(f, mul(sub(t, at("t", -1)), at("x", -1)))
	f = add(f, mul(sub(load(at("up", 0)), t), at("zUp", 0)))
	f = add(f, mul(sub(load(at("down", 0)), t), at("z", 0)))
	if rows {
		across := mul(sub(load(at("north", 0)), t), at("yNorth", 0))
		f = add(f, add(across, mul(sub(load(at("south", 0)), t), at("y", 0))))
	}
	taken := mul(sub(t, bloodC), at("blood", 0))
	VADDPD(taken, perfusion, perfusion)
	q := mul(scale, at("source", 0))
	VADDPD(q, heat, heat)
	v := add(t, mul(mul(h, at("per", 0)), sub(add(f, q), taken)))
	VMOVUPD(v, at("next", 0))
	hotter := YMM()
	VCMPPD(Imm(14), hot, v, hotter) // v > hot
	VORPD(hotter, any, any)
	ADDQ(Imm(vector), i)
	CMPQ(i, n)
	JLT(LabelRef("next"))

	VMOVUPD(perfusion, Mem{Base: Load(Param("perfusionSum"), GP64())})
	VMOVUPD(heat, Mem{Base: Load(Param("sourceSum"), GP64())})
	mask := GP32()
	VMOVMSKPD(any, mask)
	VZEROUPPER() // scalar code is slow without
	Store(mask.As64(), ReturnIndex(0))
	RET()
}

func gather() {
	base := start("gatherAVX2", "n int, ", []string{"sum", "v"}, ", w float64", "")
	w := constant("w")
	each(base, func(at func(field string) Mem) {
		VMOVUPD(add(mul(w, at("v")), at("sum")), at("sum"))
	})
}

func keep() {
	base := start("keepAVX2", "n int, ", []string{"t", "next"}, ", mostOf *[4]float64", "")
	most, sign := zero(), number(signs)
	each(base, func(at func(field string) Mem) {
		next, change := load(at("next")), YMM()
		VSUBPD(at("t"), next, change)
		VANDPD(sign, change, change)
		VMAXPD(most, change, most) // most unless the change is greater
		VMOVUPD(next, at("t"))
	}, result{most, "mostOf"})
}

func scaled() {
	base := start("scaledAVX2", "n int, ", []string{"to", "v", "by"}, "", "")
	each(base, func(at func(field string) Mem) {
		VMOVUPD(mul(load(at("v")), at("by")), at("to"))
	})
}

func over() {
	base := start("overAVX2", "n int, ", []string{"to", "v", "by"}, ", a float64", "")
	a := constant("a")
	each(base, func(at func(field string) Mem) {
		o := YMM()
		VDIVPD(at("by"), mul(a, at("v")), o)
		VMOVUPD(o, at("to"))
	})
}

func changed() {
	base := start("changedAVX2", "n int, ", []string{"q", "rho", "then"}, ", cells uint64, heatOf, changeOf *[4]float64", "")
	heat, change, unit, sign, none := zero(), zero(), number(one), number(signs), zero()
	asked := newAsked()
	each(base, func(at func(field string) Mem) {
		these, r := asked.next(), YMM()
		q := load(at("q"))
		VDIVPD(at("then"), load(at("rho")), r)
		VSUBPD(unit, r, r)
		VANDPD(sign, r, r)
		VMULPD(q, r, r)
		VBLENDVPD(these, r, none, r)
		VADDPD(r, change, change)
		VBLENDVPD(these, q, none, q)
		VADDPD(q, heat, heat)
	}, result{heat, "heatOf"}, result{change, "changeOf"})
}

func rates() {
	base := start("ratesAVX2", "n int, ", []string{"q", "per"}, ", cells uint64, heatOf, mostOf *[4]float64", "")
	heat, most, none := zero(), zero(), zero()
	asked := newAsked()
	each(base, func(at func(field string) Mem) {
		these, q := asked.next(), load(at("q"))
		rate := mul(q, at("per"))
		VBLENDVPD(these, rate, none, rate)
		VMAXPD(most, rate, most) // most unless the rate is greater
		VBLENDVPD(these, q, none, q)
		VADDPD(q, heat, heat)
	}, result{heat, "heatOf"}, result{most, "mostOf"})
}

// asked tells which cells are asked for: cell i by bit i of a parameter.
type asked struct{ bits, lanes reg.VecVirtual }

func newAsked() asked {
	a := asked{YMM(), YMM()}
	cells, err := Param("cells").Resolve()
	if err != nil {
		panic(err)
	}
	VPBROADCASTQ(cells.Addr, a.bits)
	VMOVDQU(toSign, a.lanes)
	return a
}

// next returns the next four: their bits as signs.
func (a asked) next() reg.VecVirtual {
	v := YMM()
	VPSLLVQ(a.lanes, a.bits, v)
	VPSRLQ(Imm(4), a.bits, a.bits)
	return v
}

// result is a vector that a kernel leaves where a parameter points to.
type result struct {
	v  reg.VecVirtual
	to string
}

// each is a kernel of nothing but what it does to each vector of its fields, and its results.
func each(base map[string]reg.Register, do func(at func(field string) Mem), results ...result) {
	i, n := GP64(), GP64()
	Load(Param("n"), n)
	XORQ(i, i)
	Label("next")
	do(func(field string) Mem { return Mem{Base: base[field], Index: i, Scale: 8} })
	ADDQ(Imm(4), i)
	CMPQ(i, n)
	JLT(LabelRef("next"))
	for _, r := range results {
		VMOVUPD(r.v, Mem{Base: Load(Param(r.to), GP64())})
	}
	VZEROUPPER()
	RET()
}

var constants, toSign Mem

// Places of the constants.
const (
	one      = 0
	bodyHeat = 8  // the temperature that conductivities are given for, C
	signs    = 16 // all bits but the sign
)

func numbers() {
	constants = GLOBL("constants", RODATA|NOPTR)
	DATA(one, U64(math.Float64bits(1))) // F64 writes a whole number as an integer
	DATA(bodyHeat, U64(math.Float64bits(37)))
	DATA(signs, U64(1<<63-1))
	toSign = GLOBL("toSign", RODATA|NOPTR)
	for i := range 4 {
		DATA(8*i, U64(63-i))
	}
}

func number(at int) reg.VecVirtual {
	m, v := constants, YMM()
	m.Disp += at
	VBROADCASTSD(m, v)
	return v
}

func resist() {
	base := start("resistAVX2", "n int, ", []string{"rho", "t", "water", "spark", "omega", "per"}, ", sigma0, slope, boilC, mostOmega, mostOhmM float64", "uint64")
	i, n, cells, mask := GP64(), GP64(), GP64(), GP32()
	Load(Param("n"), n)
	XORQ(i, i)
	XORQ(cells, cells)
	sigma0, slope, boilC, most, mostOhm := constant("sigma0"), constant("slope"), constant("boilC"), constant("mostOmega"), constant("mostOhmM")
	unit, body, none := number(one), number(bodyHeat), zero()

	Label("next")
	at := func(name string) Mem { return Mem{Base: base[name], Index: i, Scale: 8} }
	t := load(at("t"))
	r := YMM()
	VDIVPD(mul(sigma0, add(unit, mul(slope, sub(t, body)))), unit, r)
	VMOVUPD(r, at("rho"))
	other := YMM()
	VCMPPD(Imm(5), boilC, t, other) // not t < boilC
	also := func(predicate uint64, limit reg.VecVirtual, v Op) {
		c, m := YMM(), YMM()
		VMOVUPD(v, m)
		VCMPPD(Imm(predicate), limit, m, c)
		VORPD(c, other, other)
	}
	also(6, mostOhm, r)        // not <=
	also(9, unit, at("water")) // not >=
	also(6, none, at("spark")) // not <=
	also(5, most, at("omega")) // not <
	also(10, none, at("per"))  // not >
	VMOVMSKPD(other, mask)
	SHLXQ(i, mask.As64(), mask.As64())
	ORQ(mask.As64(), cells)
	ADDQ(Imm(4), i)
	CMPQ(i, n)
	JLT(LabelRef("next"))
	VZEROUPPER()
	Store(cells, ReturnIndex(0))
	RET()
}

func heated() {
	base := start("heatedAVX2", "n int, ", []string{"q", "t"}, ", most, least, hot float64", "uint64")
	i, n, cells, mask := GP64(), GP64(), GP64(), GP32()
	Load(Param("n"), n)
	XORQ(i, i)
	XORQ(cells, cells)
	most, least, hot := constant("most"), constant("least"), constant("hot")

	Label("next")
	at := func(name string) Mem { return Mem{Base: base[name], Index: i, Scale: 8} }
	q, much, some, hotter := load(at("q")), YMM(), YMM(), YMM()
	VCMPPD(Imm(14), most, q, much) // q > most
	VCMPPD(Imm(14), least, q, some)
	VCMPPD(Imm(14), hot, load(at("t")), hotter)
	VANDPD(hotter, some, some)
	VORPD(some, much, much)
	VMOVMSKPD(much, mask)
	SHLXQ(i, mask.As64(), mask.As64())
	ORQ(mask.As64(), cells)
	ADDQ(Imm(4), i)
	CMPQ(i, n)
	JLT(LabelRef("next"))
	VZEROUPPER()
	Store(cells, ReturnIndex(0))
	RET()
}

func outside() {
	base := start("outsideAVX2", "n int, ", []string{"t", "low", "high", "peak"}, "", "uint64")
	i, n, cells, mask := GP64(), GP64(), GP64(), GP32()
	Load(Param("n"), n)
	XORQ(i, i)
	XORQ(cells, cells)

	Label("next")
	at := func(name string) Mem { return Mem{Base: base[name], Index: i, Scale: 8} }
	t, peak, below, above := load(at("t")), YMM(), YMM(), YMM()
	VMAXPD(at("peak"), t, peak) // that of peak unless t is greater
	VMOVUPD(peak, at("peak"))
	VCMPPD(Imm(9), at("low"), t, below)  // not t >= low
	VCMPPD(Imm(6), at("high"), t, above) // not t <= high
	VORPD(above, below, below)
	VMOVMSKPD(below, mask)
	SHLXQ(i, mask.As64(), mask.As64())
	ORQ(mask.As64(), cells)
	ADDQ(Imm(4), i)
	CMPQ(i, n)
	JLT(LabelRef("next"))
	VZEROUPPER()
	Store(cells, ReturnIndex(0))
	RET()
}
