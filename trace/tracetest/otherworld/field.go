package otherworld

import "math"

// mu0 is the magnetic constant in T·m/A.
const mu0 = 4e-7 * math.Pi

// vec is a place or a direction: x east, y north, z up, the ground at zero.
type vec struct{ x, y, z float64 }

func (a vec) plus(b vec) vec      { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) minus(b vec) vec     { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(f float64) vec { return vec{f * a.x, f * a.y, f * a.z} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) length() float64     { return math.Sqrt(a.dot(a)) }
func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// flux is a magnetic flux density as a phasor, in tesla.
type flux [3]complex128

func (b *flux) add(v vec, current complex128) {
	b[0] += complex(v.x, 0) * current
	b[1] += complex(v.y, 0) * current
	b[2] += complex(v.z, 0) * current
}

func (b *flux) sum(o flux) {
	for i := range o {
		b[i] += o[i]
	}
}

// along is the component in a direction.
func (b flux) along(d vec) complex128 {
	return b[0]*complex(d.x, 0) + b[1]*complex(d.y, 0) + b[2]*complex(d.z, 0)
}

// filament is a straight piece of thin conductor with its current in ampere,
// positive from one end to the other. Whatever current ends at a joint flows off
// into the ground alike in all directions, which by symmetry has no field of
// its own: the field of filaments alone then obeys Ampère and Maxwell.
type filament struct {
	from, to vec
	current  complex128
}

// unit is the field of one ampere in the filament at a place, by the law of
// Biot and Savart integrated in closed form over a straight piece:
// B = mu0/4π · (u×r1)/|u×r1|² · (u·r1/|r1| − u·r2/|r2|), u the direction, r1 and
// r2 from both ends to the place.
func (f filament) unit(at vec) vec {
	run := f.to.minus(f.from)
	l := run.length()
	if l == 0 {
		return vec{}
	}
	u := run.times(1 / l)
	r1, r2 := at.minus(f.from), at.minus(f.to)
	c := u.cross(r1)
	q := c.dot(c)
	if q < 1e-12 {
		return vec{}
	}
	return c.times(1e-7 / q * (u.dot(r1)/r1.length() - u.dot(r2)/r2.length()))
}

// loop is the coil of an induction transmitter, small against its distance.
type loop struct {
	at     vec
	moment vec // A·m²
	phase  float64
}

// field is that of a magnetic dipole.
func (l loop) field(at vec) flux {
	var b flux
	d := at.minus(l.at)
	r := d.length()
	if r < 0.05 {
		return b
	}
	u := d.times(1 / r)
	v := u.times(3 * l.moment.dot(u)).minus(l.moment).times(1e-7 / (r * r * r))
	b.add(v, complex(math.Cos(l.phase), math.Sin(l.phase)))
	return b
}

// scene is everything that makes a field.
type scene struct {
	filaments []filament
	loops     []loop
}

func (s scene) field(at vec) flux {
	var b flux
	for _, f := range s.filaments {
		b.add(f.unit(at), f.current)
	}
	for _, l := range s.loops {
		b.sum(l.field(at))
	}
	return b
}

func (s scene) with(o scene) scene {
	return scene{append(append([]filament(nil), s.filaments...), o.filaments...), append(append([]loop(nil), s.loops...), o.loops...)}
}

// slice is a scene as seen from one station: what lies near is kept as it is,
// and the smooth field of what lies far is a parabola across and a straight
// line upwards.
type slice struct {
	near  scene
	at    vec // on the ground over the line
	right vec
	reach float64
	far   [2][3]flux // by height 0 and 1 m, across −reach, 0, +reach
}

// nearM is how far off filaments count as near.
const nearM = 9.0

func (s scene) slice(at, right vec, reach float64) slice {
	out := slice{at: at, right: right, reach: reach}
	var far scene
	for _, f := range s.filaments {
		if f.distance(at) < nearM+reach {
			out.near.filaments = append(out.near.filaments, f)
		} else {
			far.filaments = append(far.filaments, f)
		}
	}
	for _, l := range s.loops {
		if l.at.minus(at).length() < nearM+reach {
			out.near.loops = append(out.near.loops, l)
		} else {
			far.loops = append(far.loops, l)
		}
	}
	for h := range out.far {
		for i := range out.far[h] {
			out.far[h][i] = far.field(out.place(float64(i-1)*reach, float64(h)))
		}
	}
	return out
}

func (s slice) place(x, z float64) vec {
	p := s.at.plus(s.right.times(x))
	p.z += z
	return p
}

// field at an offset to the right and a height above the ground.
func (s slice) field(x, z float64) flux {
	b := s.near.field(s.place(x, z))
	t := complex(x/s.reach, 0)
	for h, w := range [2]float64{1 - z, z} {
		f := s.far[h]
		for i := range b {
			b[i] += complex(w, 0) * (f[1][i] + t*(f[2][i]-f[0][i])/2 + t*t*(f[2][i]+f[0][i]-2*f[1][i])/2)
		}
	}
	return b
}

// distance from the filament to a place.
func (f filament) distance(p vec) float64 {
	run := f.to.minus(f.from)
	q := run.dot(run)
	t := 0.0
	if q > 0 {
		t = math.Max(0, math.Min(1, p.minus(f.from).dot(run)/q))
	}
	return p.minus(f.from.plus(run.times(t))).length()
}
