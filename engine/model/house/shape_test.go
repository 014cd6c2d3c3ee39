package house

import (
	"math"
	"testing"
)

const foot = 0.3048

// The geometry of a 30 x 96 ft house worked by hand from the formulas of a
// circle and a triangle, in ft2 and ft3, to 0.1 per cent:
//
//	half circle  pi 15 96 = 4523.9, ends pi 15^2 = 706.9, room pi 15^2 96 / 2 = 33,929
//	arch 9 on 4  radius (225 + 81)/18 = 17, hoop 34 asin(15/17) = 36.75,
//	             cover 96 (36.75 + 8) = 4295.9, ends 624.7, room 29,987
//	gable 6/13   cover 1152 + 192 sqrt(225 + 49) = 4330.2, ends 570, room 27,360
func TestShapes(t *testing.T) {
	length, width := 96*foot, 30*foot
	for _, c := range []struct {
		name                string
		shape               Shape
		cover, ends, volume float64
	}{
		{"half circle", HalfCircle(length, width, 0), 4523.9, 706.9, 33929},
		{"arch", Arch(length, width, 4*foot, 9*foot), 4295.9, 624.7, 29987},
		{"gable", Gable(length, width, 6*foot, 7*foot), 1152 + 3178.2, 570, 27360},
		{"half circle 20 x 48", HalfCircle(48*foot, 20*foot, 0), 1508.0, 314.2, 7540},
	} {
		near(t, c.name+" cover", c.shape.Cover/foot/foot, c.cover, c.cover/1000)
		near(t, c.name+" ends", c.shape.Ends/foot/foot, c.ends, c.ends/1000)
		near(t, c.name+" surface", c.shape.Surface()/foot/foot, c.cover+c.ends, (c.cover+c.ends)/1000)
		near(t, c.name+" volume", c.shape.Volume/foot/foot/foot, c.volume, c.volume/1000)
	}
}

// Laws: an arch half as high as wide is the half circle; a hoop is longer than
// the rafters below it and shorter than the box around it; a flat arch and a
// flat gable agree; shapes scale with the square and the cube.
func TestShapeLaws(t *testing.T) {
	near(t, "half circle as arch", Arch(10, 8, 1, 4).Cover, HalfCircle(10, 8, 1).Cover, 1e-12)
	near(t, "half circle's hoop", HalfCircle(1, 8, 0).Cover, 4*math.Pi, 1e-12)
	for rise := 0.5; rise <= 8; rise += 0.25 {
		arch, gable := Arch(10, 8, 1, rise), Gable(10, 8, 1, rise)
		if !(arch.Cover > gable.Cover && arch.Volume > gable.Volume) {
			t.Errorf("rise %v: arch %+v is not outside gable %+v", rise, arch, gable)
		}
		if rise <= 4 && !(arch.Cover < 10*(8+2*rise+2) && arch.Volume < 10*(8*rise+8)) {
			t.Errorf("rise %v: arch %+v is not inside the box around it", rise, arch)
		}
		twice := Arch(20, 16, 2, 2*rise)
		near(t, "surface scales", twice.Surface(), 4*arch.Surface(), 1e-9)
		near(t, "volume scales", twice.Volume, 8*arch.Volume, 1e-9)
		near(t, "floor", arch.Floor, 80, 0)
	}
	near(t, "almost flat", Arch(10, 8, 1, 1e-4).Cover, Gable(10, 8, 1, 0).Cover, 1e-6)
}

// Three gable bays of 30 x 96 ft from 6 to 13 ft, by hand: roof 3 x 2 x 96 x
// sqrt(15^2 + 7^2) = 9,534.5, two side walls of 96 x 6 = 1,152, six ends of 285 =
// 1,710 ft2; room 3 x 27,360 ft3. National Greenhouse Manufacturers Association
// practice counts a row of bays so: outside walls once, roofs and ends for each bay
// (from memory).
func TestBays(t *testing.T) {
	one := Gable(96*foot, 30*foot, 6*foot, 7*foot)
	three := one.Bays(3)
	near(t, "cover", three.Cover/squareFt, 9534.5+1152, 0.1)
	near(t, "ends", three.Ends/squareFt, 1710, 0.01)
	near(t, "volume", three.Volume/foot/foot/foot, 3*27360, 0.01)
	near(t, "floor", three.Floor/squareFt, 3*2880, 1e-6)
	if one.Bays(1) != one || one.Bays(0) != one {
		t.Error("one bay is not the house itself")
	}
	// A law: joining never adds cover, and joining in steps of one adds the same each time.
	near(t, "step", three.Cover-one.Bays(2).Cover, one.Bays(2).Cover-one.Cover, 1e-9)
	if !(three.Cover < 3*one.Cover) {
		t.Errorf("three bays joined have %v m2, alone %v", three.Cover, 3*one.Cover)
	}
	// Hoops that start at the ground have no wall to lose.
	hoop := HalfCircle(20, 8, 0)
	near(t, "hoops", hoop.Bays(2).Cover, 2*hoop.Cover, 1e-9)
}
