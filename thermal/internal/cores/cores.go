// Package cores spreads passes over two cores: loops whose pieces do not depend on each other. What comes out does not depend on
// how many cores there are: pieces are the same, and whoever calls adds up what they found in their order.
package cores

import (
	"runtime"
	"sync/atomic"
	"time"
)

// Pair is the caller's core and another one, which waits for passes. Nil is the caller's alone.
type Pair struct {
	pass   func(piece int)
	place  atomic.Uint64 // of the present pass: its number, and which pieces nobody has begun yet
	helped atomic.Int64  // pieces of it that the other core has finished
	asleep atomic.Bool   // the other core waits for wake
	wake   chan struct{}
	ended  atomic.Bool

	begunAt    time.Time     // when the present pass began
	aloneUntil time.Time     // until when passes are the caller's, who waited in vain for the other core: others have it
	alone      time.Duration // and for how long

	panicked any // what a piece on the other core ended with
}

// place packs the first piece that nobody has begun and the one past the last: the caller takes them from the first on, the
// other core from the last, so that both come back to the pieces they had before.
func place(number, first, end uint64) uint64 { return number<<40 | first<<20 | end }

func unpack(v uint64) (number, first, end uint64) {
	return v >> 40, v >> 20 & (most - 1), v & (most - 1)
}

// most is one more than the most pieces of a pass.
const most = 1 << 20

const (
	// patience is how often the other core looks for the next pass before it sleeps, some 0.5 ms: waking it takes the caller some
	// 20 us. Time in which it does not run itself does not count.
	patience = 200_000
	// looks is how often a core looks for the other until it lets others run.
	looks = 200
	// late is how much longer than it worked itself the caller waits until it takes the other core to be busy with something
	// else. If it waited for more than one part in worth of the time since it was late last, it then does without for leastAlone,
	// twice as long each time in a row up to mostAlone.
	late                  = 50 * time.Microsecond
	worth                 = 6
	leastAlone, mostAlone = 5 * time.Millisecond, time.Second
)

// New returns a pair for n cores, nil for fewer than two or where there is only one. Close it.
func New(n int) *Pair {
	if min(n, runtime.GOMAXPROCS(0)) < 2 {
		return nil
	}
	p := &Pair{wake: make(chan struct{}, 1)}
	go p.help()
	return p
}

// Close lets the other core go.
func (p *Pair) Close() {
	if p == nil {
		return
	}
	p.ended.Store(true)
	p.rouse()
}

// there reports whether there is another core to be had for a pass.
func (p *Pair) there() bool {
	if p == nil {
		return false
	}
	p.begunAt = time.Now()
	return !p.begunAt.Before(p.aloneUntil)
}

// Each calls do for pieces 0 to n-1, in any order.
func (p *Pair) Each(n int, do func(piece int)) {
	if n < 2 || !p.there() {
		for i := range n {
			do(i)
		}
		return
	}
	p.begin(n, do)
	mine := 0
	for p.take(do, false) {
		mine++
	}
	p.finish(n - mine)
}

// begin offers the pieces of a pass to the other core.
func (p *Pair) begin(n int, pass func(int)) {
	if n >= most {
		panic("cores: too many pieces")
	}
	number, _, _ := unpack(p.place.Load())
	p.pass = pass
	p.helped.Store(0)
	p.place.Store(place((number+1)%(1<<24), 0, uint64(n)))
	p.rouse()
}

func (p *Pair) rouse() {
	if p.asleep.Load() && p.asleep.CompareAndSwap(true, false) {
		p.wake <- struct{}{}
	}
}

// take does a piece that nobody has begun, on the other core if no pass is given, and reports false if there is none.
func (p *Pair) take(pass func(int), last bool) bool {
	for {
		v := p.place.Load()
		number, first, end := unpack(v)
		if first == end {
			return false
		}
		piece := first
		if last {
			end--
			piece = end
		} else {
			first++
		}
		if p.place.CompareAndSwap(v, place(number, first, end)) {
			if pass == nil {
				p.aid(int(piece))
			} else {
				pass(int(piece))
			}
			return true
		}
	}
}

// aid does a piece on the other core, from which a panic goes to the caller's.
func (p *Pair) aid(piece int) {
	defer func() {
		if what := recover(); what != nil {
			p.panicked = what
		}
		p.helped.Add(1)
	}()
	p.pass(piece) // which stays until all pieces are done
}

// finish waits until the other core has finished n pieces.
func (p *Pair) finish(n int) {
	p.await(int64(n))
	p.pass = nil
	if p.panicked != nil {
		panic(p.panicked)
	}
}

// await waits until the other core has finished n pieces. If the other core is late so long that it does not pay, the caller does without it for a while.
func (p *Pair) await(n int64) {
	var from time.Time
	var isLate bool
	for i := 1; p.helped.Load() < n; i++ {
		if i%looks != 0 {
			continue
		}
		now := time.Now()
		if from.IsZero() {
			from = now
		}
		isLate = now.Sub(from) > late+from.Sub(p.begunAt)
		runtime.Gosched()
	}
	if !isLate {
		return
	}
	now := time.Now()
	if now.Sub(p.aloneUntil) < worth*now.Sub(from) {
		p.alone = min(max(2*p.alone, leastAlone), mostAlone)
	} else {
		p.alone = 0
	}
	p.aloneUntil = now.Add(p.alone)
}

// help takes pieces until the pair is closed.
func (p *Pair) help() {
	for i := 1; !p.ended.Load(); i++ {
		switch {
		case p.take(nil, true):
			i = 0
		case i == patience:
			p.sleep()
			i = 0
		case i%looks == 0:
			runtime.Gosched()
		}
	}
}

// sleep waits for the next pass.
func (p *Pair) sleep() {
	p.asleep.Store(true)
	_, first, end := unpack(p.place.Load())
	if (first != end || p.ended.Load()) && p.asleep.CompareAndSwap(true, false) {
		return // one was begun just now
	}
	<-p.wake
}
