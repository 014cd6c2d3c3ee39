package house

import "math"

// Shape is what a house's form gives: surfaces in m2, room in m3.
type Shape struct {
	Cover  float64 // roof and side walls
	Ends   float64 // the two end walls
	Volume float64
	Floor  float64

	wall float64 // one side wall, which neighbours in a row do without
}

// Surface gives all that loses heat to the air outside, m2.
func (s Shape) Surface() float64 { return s.Cover + s.Ends }

// Bays gives a house of several such bays side by side, joined at gutters that stand
// on posts: what lies between two bays is open, so each joint does without both side
// walls. Every bay keeps its roof, its ends and its room. One bay, or less, is the
// house as it is. (A wall between bays that both stand warm loses nothing either; the
// gutters themselves are counted as roof.)
func (s Shape) Bays(n int) Shape {
	bays, joints := float64(max(n, 1)), float64(max(n, 1)-1)
	return Shape{
		Cover:  bays*s.Cover - 2*joints*s.wall,
		Ends:   bays * s.Ends,
		Volume: bays * s.Volume,
		Floor:  bays * s.Floor,
		wall:   s.wall,
	}
}

// HalfCircle gives the house whose hoops are half circles, standing on side
// walls (0 for hoops that start at the ground): cover pi w L / 2 + 2 s L, ends
// pi w2 / 4 + 2 w s. Metres; length and width above 0.
func HalfCircle(length, width, wall float64) Shape {
	return Arch(length, width, wall, width/2)
}

// Arch gives the house with side walls and a roof that is part of a circle,
// rising above the walls. The circle through both eaves and the ridge has radius
//
//	R = (w2/4 + h2) / 2h
//
// and its part over the house spans twice the angle t = 2 atan(2h / w), so the
// hoop is 2 R t long and closes an area of R2 (t - sin t cos t). Written with
// the arctangent it also holds for hoops higher than half their width. Metres;
// length, width and rise above 0.
func Arch(length, width, wall, rise float64) Shape {
	radius := (width*width/4 + rise*rise) / (2 * rise)
	angle := 2 * math.Atan(2*rise/width)
	hoop := 2 * radius * angle
	under := radius * radius * (angle - math.Sin(angle)*math.Cos(angle))
	return prism(length, width, wall, hoop, under)
}

// Gable gives the house with side walls and a straight roof to a ridge in the
// middle, rising above the walls. Metres; length and width above 0, rise 0 or more.
func Gable(length, width, wall, rise float64) Shape {
	return prism(length, width, wall, 2*math.Hypot(width/2, rise), width*rise/2)
}

// prism stretches a cross-section along a house: over is the length of roof
// across the house, under the area between it and the eaves.
func prism(length, width, wall, over, under float64) Shape {
	section := under + width*wall
	return Shape{
		Cover:  length * (over + 2*wall),
		Ends:   2 * section,
		Volume: length * section,
		Floor:  length * width,
		wall:   length * wall,
	}
}
