package rows_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// The geometry at rest stands beside its change from full extension; what is not known of it has no row.
func TestRowsOfTheGeometry(t *testing.T) {
	j := demoJob(t, "setup/demo/job.json")
	s := sheetOf(t, j)
	at, was := s.Geometry.Rest, s.Geometry.Extended
	all := rows.Of(s)
	say(t, all,
		line{rows.Both, "", "wheelbase", fmt.Sprintf("wheelbase at rest: %v, %v since full extension", at.Wheelbase.Both(), (at.Wheelbase - was.Wheelbase).Both().Signed())},
		line{rows.Both, "", "head_angle", fmt.Sprintf("head angle at rest: %v, %v", at.HeadAngle.Both(), (at.HeadAngle - was.HeadAngle).Both().Signed())},
		line{rows.Both, "", "trail", fmt.Sprintf("trail at rest: %v, %v", at.Trail.Both(), (at.Trail - was.Trail).Both().Signed())},
		line{rows.Both, "", "bottom_bracket_height", fmt.Sprintf("bottom bracket at rest: %v, %v", at.BottomBracketHeight.Both(), (at.BottomBracketHeight - was.BottomBracketHeight).Both().Signed())})
	require.Equal(t, []any{at.Trail, was.Trail}, find(t, all, rows.Both, "", "trail").Values)

	j.Masses.ForkOffset, j.Masses.ChainstayLength = nil, 0
	left := keys(rows.Pick(rows.Of(sheetOf(t, j)), rows.Both))
	require.Contains(t, left, "head_angle")
	require.NotContains(t, left, "trail")
	require.NotContains(t, left, "bottom_bracket_height")
	j.Masses.Wheelbase, j.Masses.MassCentreHeight = 0, 0
	require.NotContains(t, keys(rows.Pick(rows.Of(sheetOf(t, j)), rows.Both)), "wheelbase")
}

// A stance on a slope has the bike settled together there, and says how its speed changes; where the ends
// do not settle together it is on level ground.
func TestRowsOfAStanceOnASlope(t *testing.T) {
	j := demoJob(t, "setup/demo/job.json")
	for _, test := range []struct {
		ground sag.Ground
		says   string
	}{
		{sag.Ground{Slope: -15 * units.Degree, FrontBraking: 0.16, RearBraking: 0.1}, "down a slope of 15.00° at a steady speed"},
		{sag.Ground{Slope: 10 * units.Degree, Driving: 0.3}, "up a slope of 10.00° gaining 0.13 g₀"}, // 0.3 − 0.1736
		{sag.Ground{FrontBraking: 0.2}, "on level ground losing 0.20 g₀"},
	} {
		j.Stances[1].Ground = test.ground
		s := sheetOf(t, j)
		c := s.Stances[1].Coupled
		say(t, rows.Of(s),
			line{rows.Both, sag.Front, "stances[1]", fmt.Sprintf("steep descent: %v, %s sag, %s on the rear, %s", c.FrontTravel.Both(), units.Percent(c.FrontSag), units.Percent(c.RearShare), test.says)},
			line{rows.Both, sag.Rear, "stances[1]", fmt.Sprintf("steep descent: %v, %s sag", c.RearTravel.Both(), units.Percent(c.RearSag))},
			line{rows.Both, sag.Front, "stances[1].wheel", fmt.Sprintf("wheel on the ground: %v", c.FrontWheelLoad.Both())},
			line{rows.Both, sag.Rear, "stances[1].wheel", fmt.Sprintf("wheel on the ground: %v", c.RearWheelLoad.Both())},
			line{rows.Both, "", "stances[1].pitch", fmt.Sprintf("the frame pitches: %v, head angle %s", c.Pitch.Both(), c.HeadAngle.Both().Metric)})
	}
	j.Masses.MassCentreHeight = 0
	s := sheetOf(t, j)
	alone := s.Stances[1].Front.Rest
	say(t, rows.Of(s), line{rows.Both, sag.Front, "stances[1]", fmt.Sprintf("steep descent: %v, %s sag, 45.0 %% on the rear, on level ground", alone.Travel.Both(), units.Percent(alone.Sag))})
}
