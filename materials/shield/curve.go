package shield

import (
	"math"

	"foamwright/materials/fault"
)

// Curve is a stack of layers bent over a former about the upright axis, in mm and radians.
type Curve struct {
	Former    float64   // radius to the back face
	Thickness float64   // of everything that is bent, a face rim included
	Radii     []float64 // mid radius of each layer, from the back
	Angle     float64   // of the narrowest layer
	Bent      Bow       // on the former
	Released  Bow       // off the former: what the customer gets
	Release   float64   // share of the curvature lost when released
	EdgeStep  float64   // how far the layers step at each side, all joints together; 0 with a template per layer
	Longer    []float64 // how much longer each layer is than the first when each has its own template
}

// Bow is how wide and deep a curved shield stands.
type Bow struct {
	Radius float64 // mid radius of the stack
	Angle  float64
	Chord  float64 // straight across, over the outside
	Depth  float64 // from the front of the curve to the back of the edge
	Hollow float64 // depth inside the curve
}

// bend lays layers (thickness from the back, mm) of one template width over a former. With a template per
// layer the width is that of the first layer and every next one is longer by angle × thickness.
func bend(width, former float64, layers []float64, perLayer bool, calibration float64) (Curve, error) {
	c := Curve{Former: former}
	thickest, cubes := 0.0, 0.0
	for _, t := range layers {
		c.Radii = append(c.Radii, former+c.Thickness+t/2)
		c.Thickness += t
		cubes += t * t * t
		thickest = math.Max(thickest, t)
	}
	if least := 20 * thickest; former < least {
		return c, fault.New(fault.Invalid, "A layer %.4g mm thick does not bend tighter than %.0f mm radius (twenty times its thickness). Use a wider former or thinner layers.", thickest, least)
	}
	narrowest := c.Radii[len(c.Radii)-1]
	if perLayer {
		narrowest = c.Radii[0]
	}
	c.Angle = width / narrowest
	if c.Angle > math.Pi {
		return c, fault.New(fault.Invalid, "That width would go more than half way round the former. The least radius for it is %.0f mm.", math.Ceil(width/math.Pi-(narrowest-former)))
	}
	for i := range layers {
		if perLayer {
			c.Longer = append(c.Longer, c.Angle*(c.Radii[i]-c.Radii[0]))
		} else if i > 0 {
			joint := c.Radii[i] - layers[i]/2
			c.EdgeStep += (width/c.Radii[i-1] - width/c.Radii[i]) / 2 * joint
		}
	}
	// Bending theory: the inner stress that stays when glued layers are let go opens the curve by Σt³/T³;
	// the calibration makes up for foam that creeps. Common practice, no source.
	c.Release = math.Min(calibration*cubes/math.Pow(c.Thickness, 3), mostRelease)
	c.Bent = bow(former+c.Thickness/2, c.Angle, c.Thickness)
	c.Released = c.released(c.Release)
	return c, nil
}

// mostRelease is the largest share of the curvature that a release loses.
const mostRelease = 0.6

// released is the bow when a share of the curvature is lost.
func (c Curve) released(share float64) Bow {
	return bow(c.Bent.Radius/(1-share), c.Angle*(1-share), c.Thickness)
}

func bow(mid, angle, thickness float64) Bow {
	out, in := mid+thickness/2, mid-thickness/2
	return Bow{
		Radius: mid, Angle: angle,
		Chord:  2 * out * math.Sin(angle/2),
		Depth:  out - in*math.Cos(angle/2),
		Hollow: in * (1 - math.Cos(angle/2)),
	}
}

// templateFor is the template width whose finished, released shield is as wide straight across as asked. The
// chord grows with the width up to half a turn, so halving finds it. With a template per layer the width is the
// inmost one's and may be less than the chord over the outside.
func templateFor(across, former float64, layers []float64, perLayer bool, calibration float64) (float64, error) {
	low, high := across/2, across*math.Pi/2
	widest := 0.0
	for range 60 {
		mid := (low + high) / 2
		c, err := bend(mid, former, layers, perLayer, calibration)
		switch {
		case err != nil && former < 20*thickest(layers):
			return 0, err
		case err != nil:
			high = mid
		case c.Released.Chord < across:
			low, widest = mid, math.Max(widest, c.Released.Chord)
		default:
			high = mid
		}
	}
	c, err := bend(low, former, layers, perLayer, calibration)
	if err != nil || math.Abs(c.Released.Chord-across) > 0.01 {
		return 0, fault.New(fault.Invalid, "No template is that wide straight across over this former: half a turn reaches %.0f mm. Use a larger radius.", widest)
	}
	return low, nil
}

func thickest(layers []float64) float64 {
	most := 0.0
	for _, t := range layers {
		most = math.Max(most, t)
	}
	return most
}
