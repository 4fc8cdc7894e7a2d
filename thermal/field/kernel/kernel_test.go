package kernel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"muralheat/thermal/internal/cores"
)

// problem is a system with all its fields filled at random.
type problem struct {
	Layout
	rho             Field
	half, g, lk     Quads
	scale, inverse  Field
	ws, wz          Field
	r, con, p, t    Field
	u, y, phi, q    Field
	pw, rr, cr      float64
	heat, along     float64
	phi2, diff, own Field
	mix, out        Field
	powers          [3]float64
	rowByRow        []float64
	contacts        []contact
}

// random is resistivity of tissue, one cell in ten dried up and one in ten missing.
func random(nx, ny, nz int, rng *rand.Rand) *problem {
	b := &problem{Layout: NewLayout(nx, ny, nz)}
	for _, f := range []*Field{&b.rho, &b.scale, &b.inverse, &b.ws, &b.wz, &b.r, &b.con, &b.p, &b.t, &b.u, &b.y, &b.phi, &b.q, &b.phi2, &b.diff, &b.own, &b.mix, &b.out} {
		*f = b.NewField()
	}
	b.half, b.g, b.lk = b.NewQuads(), b.NewQuads(), b.NewQuads()
	for s := range b.rho {
		for r := range rows {
			b.rho[s][r] = Void()
			for d := range 4 {
				b.half[s][d][r] = 1
			}
		}
	}
	for k := range b.NPlane {
		for j := range b.NRow {
			s, r := b.row(j, k)
			for i := range nx {
				v := 1 + rng.Float32()
				switch rng.IntN(10) {
				case 0:
					v *= 1e6
				case 1:
					v = Void()
				}
				b.rho[s+i][r] = v
				for d := range 4 {
					b.half[s+i][d][r] = 1e3 * (1 + rng.Float32())
				}
				if rng.IntN(20) == 0 && v < Void() {
					b.contacts = append(b.contacts, contact{s + i, r, 1e-3 * rng.Float32()})
				}
				for _, f := range []Field{b.r, b.con, b.p, b.phi, b.y} {
					if v < Void() {
						f[s+i][r] = 2*rng.Float32() - 1
					}
				}
			}
		}
	}
	return b
}

// run calls every kernel, each on what the one before it left.
func (b *problem) run(k loops) {
	before := use
	defer func() { use = before }()
	use = k
	b.Couple(b.rho, b.half, b.g)
	b.feed()
	b.Factor(b.g, b.lk, b.scale, b.inverse, b.ws, b.wz)
	b.heat = b.Joule(b.phi, b.rho, b.half, b.g, b.q)
	for range 3 {
		b.Backward(0.75, 0.1, b.r, b.con, b.p, b.lk, b.t)
		b.pw = b.Forward(b.p, b.t, b.lk, b.u)
		b.rr, b.cr = b.Update(1e-3, b.t, b.u, b.con, b.y, b.r)
	}
	b.Lift(b.y, b.lk, b.u)
	b.Potential(0.25, b.scale, b.y, b.phi2)
	b.Mixed(0.75, b.phi2, -0.5, b.phi, b.inverse, b.mix, b.diff)
	b.powers[0], b.powers[1], b.powers[2] = b.Energies(b.phi2, b.phi, b.g)
	b.Inflow(b.mix, b.g, b.scale, b.out)
	b.along = b.Dot(b.p, b.t)
	b.rowByRow = make([]float64, b.NX*b.NRow*b.NPlane)
	b.Unpack(b.rho, b.rowByRow)
	for i := range b.rowByRow {
		b.rowByRow[i] *= 1 + 1e-9*float64(i%7) // to be rounded
	}
	b.Pack(b.rowByRow, b.own)
}

// feed puts the contacts back that Couple cleared.
func (b *problem) feed() {
	for _, c := range b.contacts {
		b.g[c.step][D][c.lane] = c.g
	}
}

// contact is a face of a cell with metal.
type contact struct {
	step, lane int
	g          float32
}

func (b *problem) bits() []uint32 {
	var out []uint32
	for _, f := range []Field{b.scale, b.inverse, b.ws, b.wz, b.r, b.p, b.t, b.u, b.y, b.q, b.phi2, b.diff, b.own, b.mix, b.out} {
		for s := range f {
			for r := range rows {
				out = append(out, math.Float32bits(f[s][r]))
			}
		}
	}
	for _, q := range []Quads{b.g, b.lk} {
		for s := range q {
			for d := range 4 {
				for r := range rows {
					out = append(out, math.Float32bits(q[s][d][r]))
				}
			}
		}
	}
	for _, v := range append([]float64{b.pw, b.rr, b.cr, b.heat, b.along, b.powers[0], b.powers[1], b.powers[2]}, b.rowByRow...) {
		u := math.Float64bits(v)
		out = append(out, uint32(u), uint32(u>>32))
	}
	return out
}

// sizes are of meshes: flat ones, of one and two planes, with rows across and down, rows shorter than they follow each other, and odd
// numbers of blocks.
var sizes = [][3]int{{1, 1, 1}, {1, 7, 2}, {2, 8, 3}, {3, 9, 1}, {7, 16, 2}, {8, 5, 4}, {31, 17, 5}, {40, 23, 3}, {12, 1, 30}, {30, 1, 20}, {26, 30, 2}, {19, 24, 9}, {21, 9, 16}, {17, 40, 6}}

// Vectors give the bits of the loops in Go.
func TestVectorsEqualPlain(t *testing.T) {
	if !hasVectors {
		t.Skip("this processor has no AVX2: the loops in Go are all there is")
	}
	for i, n := range sizes {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			p := random(n[0], n[1], n[2], rand.New(rand.NewPCG(1, uint64(i))))
			v := random(n[0], n[1], n[2], rand.New(rand.NewPCG(1, uint64(i))))
			p.run(plain{})
			v.run(fastest())
			a, b := p.bits(), v.bits()
			for i := range a {
				if a[i] != b[i] {
					t.Fatalf("number %d of %d: %x (%g) in Go, %x (%g) in assembly", i, len(a), a[i], math.Float32frombits(a[i]), b[i], math.Float32frombits(b[i]))
				}
			}
		})
	}
}

// Passes over two cores give the bits of one.
func TestTwoCoresEqualOne(t *testing.T) {
	both(t, func(t *testing.T) {
		pair := cores.New(2)
		defer pair.Close()
		for i, n := range sizes {
			one := random(n[0], n[1], n[2], rand.New(rand.NewPCG(7, uint64(i))))
			two := random(n[0], n[1], n[2], rand.New(rand.NewPCG(7, uint64(i))))
			two.Spread(pair)
			one.run(use)
			two.run(use)
			a, b := one.bits(), two.bits()
			for i := range a {
				if a[i] != b[i] {
					t.Fatalf("%v: number %d of %d: %x on one core, %x on two", n, i, len(a), a[i], b[i])
				}
			}
		}
	})
}

// Rows follow each other where fewer lanes stay empty, and cells and faces go with them.
func TestRowsAlongTheShorterPadding(t *testing.T) {
	across, down := NewLayout(5, 8, 9), NewLayout(5, 9, 8)
	if across.NRow != 8 || down.NRow != 8 || across.Len() != down.Len() {
		t.Errorf("rows of %d and %d, fields of %d and %d steps", across.NRow, down.NRow, across.Len(), down.Len())
	}
	for i := range 5 {
		for j := range 8 {
			for k := range 9 {
				step, lane := across.Cell(i, j, k)
				if s, l := down.Cell(i, k, j); s != step || l != lane {
					t.Fatalf("cell %d, %d, %d: step %d, lane %d, want %d, %d", i, k, j, s, l, step, lane)
				}
			}
		}
	}
	if a, d := across.Faces(1, 2, 3, 4), down.Faces(1, 2, 4, 3); a != [4]float64{W: 1, E: 2, Y: 3, Z: 4} || a != d {
		t.Errorf("faces %g and %g", a, d)
	}
}

// both runs a test on the loops in Go and on vectors, if there are any.
func both(t *testing.T, test func(t *testing.T)) {
	before := use
	defer func() { use = before }()
	use = plain{}
	t.Run("plain", test)
	if hasVectors {
		use = fastest()
		t.Run("vectors", test)
	}
}

// The kernels do what their documentation says, cell by cell in double precision: the factor
// has the pivots it claims, one substitution undoes the other product, and the preconditioned
// matrix is (I-L)^-1 S A S (I-L')^-1.
func TestEquations(t *testing.T) {
	both(t, func(t *testing.T) {
		for i, n := range sizes {
			b := random(n[0], n[1], n[2], rand.New(rand.NewPCG(2, uint64(i))))
			b.equations(t)
		}
	})
}

// grid is a field cell by cell, with neighbours by index.
type grid struct {
	b *problem
	v map[[3]int]float64
}

func (b *problem) read(f func(s, r int) float32) grid {
	g := grid{b, map[[3]int]float64{}}
	for k := range b.NPlane {
		for j := range b.NRow {
			s, r := b.row(j, k)
			for i := range b.NX {
				g.v[[3]int{i, j, k}] = float64(f(s+i, r))
			}
		}
	}
	return g
}

func (b *problem) field(f Field) grid { return b.read(func(s, r int) float32 { return f[s][r] }) }
func (b *problem) part(q Quads, d int) grid {
	return b.read(func(s, r int) float32 { return q[s][d][r] })
}

// steps to the cells before, and the part of Quads that belongs to the face.
var before = [3][3]int{{-1, 0, 0}, {0, -1, 0}, {0, 0, -1}}

func plus(c, d [3]int, sign int) [3]int {
	return [3]int{c[0] + sign*d[0], c[1] + sign*d[1], c[2] + sign*d[2]}
}

// face is one of a cell: what lies beyond it, and the cell and direction with which it is stored.
type face struct {
	beyond, owner [3]int
	d             int
}

// faces returns those of c towards cells eliminated before it, or after it: planes from both ends to the middle one, in a plane row by
// row, in a row cell by cell. One plane is eliminated as it is.
func (b *problem) faces(c [3]int, towardsBefore bool) (list []face) {
	for d := range 3 {
		for _, sign := range []int{1, -1} {
			n := plus(c, before[d], sign)
			isBefore := sign == 1
			if d == 2 {
				mid := b.NPlane / 2
				off := func(k int) int { return max(k-mid, mid-k) }
				isBefore = off(n[2]) > off(c[2])
			}
			if isBefore == towardsBefore {
				f := face{beyond: n, owner: c, d: d}
				if sign < 0 {
					f.owner = n
				}
				list = append(list, f)
			}
		}
	}
	return list
}

func (b *problem) equations(t *testing.T) {
	t.Helper()
	near := func(what string, c [3]int, got, want, size float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 2e-5*math.Abs(size)+1e-12) {
			t.Fatalf("%d x %d x %d, %s of cell %v: %g, want %g", b.NX, b.NRow, b.NPlane, what, c, got, want)
		}
	}
	b.Couple(b.rho, b.half, b.g)
	b.feed()
	b.Factor(b.g, b.lk, b.scale, b.inverse, b.ws, b.wz)
	rho := b.field(b.rho)
	low := [3]grid{b.part(b.half, W), b.part(b.half, Y), b.part(b.half, Z)}
	high := [3]grid{b.part(b.half, E), b.part(b.half, Y), b.part(b.half, Z)}
	g := [3]grid{b.part(b.g, X), b.part(b.g, Y), b.part(b.g, Z)}
	diagonal := b.part(b.g, D)
	for c, v := range rho.v {
		for d := range 3 {
			want := 0.0
			if n := plus(c, before[d], 1); rho.v[n] != 0 {
				want = 1 / (rho.v[n]*high[d].v[n] + v*low[d].v[c])
			}
			near("conductance", c, g[d].v[c], want, want)
		}
	}
	for c := range rho.v {
		for d := range 3 {
			diagonal.v[c] += g[d].v[c]
			if n := plus(c, before[d], 1); rho.v[n] != 0 {
				diagonal.v[n] += g[d].v[c]
			}
		}
	}
	lk := [3]grid{b.part(b.lk, X), b.part(b.lk, Y), b.part(b.lk, Z)}
	scale, inverse, dd := b.field(b.scale), b.field(b.inverse), b.part(b.lk, D)
	for c, v := range rho.v {
		if math.IsInf(v, 1) || diagonal.v[c] < 1e-20 {
			near("scale without tissue", c, scale.v[c], 0, 0)
			continue
		}
		pivot := diagonal.v[c]
		for d := range 3 {
			n := plus(c, before[d], 1)
			x := g[d].v[c] * scale.v[c] * scale.v[n]
			near("coupling", c, lk[d].v[c], x, x)
		}
		for _, f := range b.faces(c, true) {
			others := 0.0
			for _, o := range b.faces(f.beyond, false) {
				if o.beyond != c {
					others += g[o.d].v[o.owner]
				}
			}
			x := g[f.d].v[f.owner]
			pivot -= x * (x + 0.98*others) * scale.v[f.beyond] * scale.v[f.beyond]
		}
		pivot = max(pivot, 1e-3*diagonal.v[c])
		near("pivot", c, 1/(scale.v[c]*scale.v[c]), pivot, diagonal.v[c])
		near("inverse", c, inverse.v[c]*scale.v[c], 1, 1)
		near("diagonal", c, dd.v[c]+2, diagonal.v[c]*scale.v[c]*scale.v[c], 1+diagonal.v[c]/pivot)
	}

	heat := b.Joule(b.phi, b.rho, b.half, b.g, b.q)
	phi, q := b.field(b.phi), b.field(b.q)
	for c, v := range rho.v {
		want := 0.0
		for d := range 3 {
			i, o := g[d].v[c]*(phi.v[c]-phi.v[plus(c, before[d], 1)]), plus(c, before[d], -1)
			j := g[d].v[o] * (phi.v[c] - phi.v[o])
			if !math.IsInf(v, 1) {
				want += v * (low[d].v[c]*i*i + high[d].v[c]*j*j)
			}
		}
		near("heat", c, q.v[c], want, want)
		heat -= q.v[c]
	}
	near("all heat", [3]int{}, heat, 0, b.Joule(b.phi, b.rho, b.half, b.g, b.q))

	energy, common, rest := b.Energies(b.phi, b.y, b.g)
	b.Inflow(b.phi, b.g, b.scale, b.out)
	other, out := b.field(b.y), b.field(b.out)
	wantAA, wantAD, wantDD := 0.0, 0.0, 0.0
	for c := range rho.v {
		want, size := 0.0, 0.0
		for d := range 3 {
			n, o := plus(c, before[d], 1), plus(c, before[d], -1)
			da, db := phi.v[c]-phi.v[n], other.v[c]-other.v[n]
			wantAA += g[d].v[c] * da * da
			wantAD += g[d].v[c] * da * (da - db)
			wantDD += g[d].v[c] * (da - db) * (da - db)
			in, on := -g[d].v[c]*da, g[d].v[o]*(phi.v[o]-phi.v[c])
			want, size = want+in+on, size+math.Abs(in)+math.Abs(on)
		}
		near("inflow", c, out.v[c], want*scale.v[c], size*scale.v[c])
	}
	near("energy", [3]int{}, energy, wantAA, wantAA)
	near("energy in common", [3]int{}, common, wantAD, wantAA+wantDD)
	near("energy of the difference", [3]int{}, rest, wantDD, wantDD)

	// Backward with beta and share, against its own equation; forward against the matrix.
	r, con, was := b.field(b.r), b.field(b.con), b.field(b.p)
	b.Backward(0.75, 0.1, b.r, b.con, b.p, b.lk, b.t)
	pw := b.Forward(b.p, b.t, b.lk, b.u)
	p, x, u := b.field(b.p), b.field(b.t), b.field(b.u)
	sum := 0.0
	for c := range rho.v {
		near("direction", c, p.v[c], r.v[c]+0.75*was.v[c]-0.1*con.v[c], 2)
		back, size := x.v[c], math.Abs(x.v[c])
		fore := u.v[c] - p.v[c] - dd.v[c]*x.v[c]
		size += math.Abs(u.v[c]) + math.Abs(dd.v[c]*x.v[c])
		for _, f := range b.faces(c, false) {
			back -= lk[f.d].v[f.owner] * x.v[f.beyond]
			size += math.Abs(lk[f.d].v[f.owner] * x.v[f.beyond])
		}
		for _, f := range b.faces(c, true) {
			fore -= lk[f.d].v[f.owner] * u.v[f.beyond]
			size += math.Abs(lk[f.d].v[f.owner] * u.v[f.beyond])
		}
		near("backward substitution", c, back, p.v[c], size)
		near("forward substitution", c, fore, 0, size)
		sum += p.v[c] * (x.v[c] + u.v[c])
	}
	if math.Abs(pw-sum) > 1e-5*math.Abs(sum)+1e-9 {
		t.Fatalf("p.(t + u) is %g, want %g", pw, sum)
	}

	b.Lift(b.t, b.lk, b.q) // gives p back
	again := b.field(b.q)
	for c := range rho.v {
		size := math.Abs(x.v[c])
		for _, f := range b.faces(c, false) {
			size += math.Abs(lk[f.d].v[f.owner] * x.v[f.beyond])
		}
		near("lift", c, again.v[c], p.v[c], size)
	}

	y := b.field(b.y)
	rr, cr := b.Update(0.5, b.t, b.u, b.con, b.y, b.r)
	y2, r2 := b.field(b.y), b.field(b.r)
	wantRR, wantCR := 0.0, 0.0
	for c := range rho.v {
		near("y", c, y2.v[c], y.v[c]+0.5*x.v[c], 1+math.Abs(x.v[c]))
		near("residual", c, r2.v[c], r.v[c]-0.5*(x.v[c]+u.v[c]), 1+math.Abs(x.v[c])+math.Abs(u.v[c]))
		wantRR += r2.v[c] * r2.v[c]
		wantCR += r2.v[c] * con.v[c]
	}
	if math.Abs(rr-wantRR) > 1e-6*wantRR+1e-12 || math.Abs(cr-wantCR) > 1e-5*(wantRR+1) {
		t.Fatalf("r.r %g and c.r %g, want %g and %g", rr, cr, wantRR, wantCR)
	}
}

// A pivot that dropped fill would make small or negative is kept at the least share of the
// diagonal. Circuits hardly come to that: here one cell has a source on its diagonal.
func TestLeastPivot(t *testing.T) {
	both(t, func(t *testing.T) {
		b := random(9, 11, 4, rand.New(rand.NewPCG(4, 4)))
		for s := range b.rho {
			for r := range rows {
				if b.rho[s][r] < Void() {
					b.rho[s][r] = 1
				}
			}
		}
		b.Couple(b.rho, b.half, b.g)
		at, lane := b.row(5, 2)
		at += 4
		sum := float64(b.g[at+1][X][lane]) + float64(b.g[at+1][Y][lane+1]) + float64(b.g[at+b.plane][Z][lane])
		for d := range 3 {
			sum += float64(b.g[at][d][lane])
		}
		b.g[at][D][lane] = -0.95 * float32(sum)
		b.Factor(b.g, b.lk, b.scale, b.inverse, b.ws, b.wz)
		diagonal := sum + float64(b.g[at][D][lane])
		if pivot := 1 / math.Pow(float64(b.scale[at][lane]), 2); math.Abs(pivot/(Least*diagonal)-1) > 1e-4 {
			t.Errorf("pivot %g of a diagonal of %g, want the share %g", pivot, diagonal, Least)
		}
	})
}

// What lies between and around the rows stays zero, so that sums are of cells alone.
func TestPaddingStaysZero(t *testing.T) {
	both(t, func(t *testing.T) {
		for i, n := range sizes {
			b := random(n[0], n[1], n[2], rand.New(rand.NewPCG(3, uint64(i))))
			b.run(use)
			cell := map[[2]int]bool{}
			for k := range b.NPlane {
				for j := range b.NRow {
					s, r := b.row(j, k)
					for i := range b.NX {
						cell[[2]int{s + i, r}] = true
					}
				}
			}
			for _, f := range []Field{b.scale, b.inverse, b.r, b.p, b.t, b.u, b.y, b.q, b.phi2, b.diff, b.own} {
				for s := range f {
					for r, v := range f[s] {
						if v != 0 && !cell[[2]int{s, r}] {
							t.Fatalf("%v: %g at step %d, lane %d", n, v, s, r)
						}
					}
				}
			}
		}
	})
}

// Potentials, mixtures and products of fields are what they say, cell by cell.
func TestFields(t *testing.T) {
	both(t, func(t *testing.T) {
		for i, n := range sizes {
			b := random(n[0], n[1], n[2], rand.New(rand.NewPCG(6, uint64(i))))
			b.Couple(b.rho, b.half, b.g)
			b.feed()
			b.Factor(b.g, b.lk, b.scale, b.inverse, b.ws, b.wz)
			b.Potential(0.25, b.scale, b.y, b.phi2)
			b.Mixed(0.75, b.phi2, -0.5, b.phi, b.inverse, b.mix, b.diff)
			along := b.Dot(b.y, b.diff)
			scale, inverse, y, phi, phi2, diff := b.field(b.scale), b.field(b.inverse), b.field(b.y), b.field(b.phi), b.field(b.phi2), b.field(b.diff)
			mix := b.field(b.mix)
			for c, s := range scale.v {
				want := 0.0
				if s > 0 {
					want = 0.25 + s*y.v[c]
				}
				if math.Abs(phi2.v[c]-want) > 1e-6*(0.25+math.Abs(want)) {
					t.Fatalf("%v: potential %g of cell %v, want %g", n, phi2.v[c], c, want)
				}
				if want := (0.75*phi2.v[c] - 0.5*phi.v[c]) * inverse.v[c]; math.Abs(diff.v[c]-want) > 1e-6*(math.Abs(phi2.v[c])+math.Abs(phi.v[c]))*inverse.v[c] {
					t.Fatalf("%v: mixture %g of cell %v, want %g", n, diff.v[c], c, want)
				}
				if m := mix.v[c] * inverse.v[c]; math.Abs(diff.v[c]-m) > 1e-6*math.Abs(m) {
					t.Fatalf("%v: mixture %g of cell %v, want %g", n, diff.v[c], c, m)
				}
				along -= y.v[c] * diff.v[c]
			}
			if size := math.Sqrt(b.Dot(b.y, b.y) * b.Dot(b.diff, b.diff)); math.Abs(along) > 1e-6*size {
				t.Errorf("%v: product off by %g of %g", n, along, size)
			}
		}
	})
}

// Cells are packed where the layout has them, missing ones as Void, and come back as they were.
func TestPack(t *testing.T) {
	both(t, func(t *testing.T) {
		for _, n := range sizes {
			l := NewLayout(n[0], n[1], n[2])
			f, v := l.NewField(), make([]float64, n[0]*n[1]*n[2])
			for i := range v {
				v[i] = float64(i + 1)
				if i%11 == 5 {
					v[i] = 1e30
				}
			}
			l.Pack(v, f)
			at := func(i int) float32 {
				step, lane := l.Cell(i%n[0], i/n[0]%n[1], i/n[0]/n[1])
				return f[step][lane]
			}
			for i, x := range v {
				if want := float32(x); at(i) != want && !(x > Nothing && at(i) == Void()) {
					t.Fatalf("%v: cell %d is %g, want %g", n, i, at(i), want)
				}
			}
			back := make([]float64, len(v))
			l.Unpack(f, back)
			for i, x := range back {
				if x != float64(at(i)) {
					t.Fatalf("%v: cell %d comes back as %g, was %g", n, i, x, at(i))
				}
			}
		}
	})
}

func TestOtherLayout(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a field of another layout is taken")
		}
	}()
	l, other := NewLayout(4, 4, 4), NewLayout(5, 4, 4)
	l.Lift(l.NewField(), l.NewQuads(), other.NewField())
}
