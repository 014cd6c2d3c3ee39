package engine_test

import (
	"fmt"
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/book"
	"wintertruss/engine/week"
)

// manyPlantings is a book of so many tomato plantings, sown through autumn and winter,
// each with its whole chain from the seed to the scale.
func manyPlantings(n int) string {
	var b strings.Builder
	b.WriteString("```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2026-09-01\n```\n")
	b.WriteString("```list planting\n | label | kind | sown | set_out | topped | cleared | density stem/m2 | floor m2 | fruit_weight g/fruit\n")
	for i := range n {
		fmt.Fprintf(&b, "p%d | Planting %d | %s | 2026-%02d-%02d | 2026-%02d-%02d | 2027-05-%02d | 2027-06-27 | %g | %d | %d\n",
			i, i, []string{"large", "cluster", "cherry"}[i%3], 8+i%3, 1+i%28, 10+i%3, 1+i%28, 1+i%28, 2+float64(i%10)/10, 50+i%200, []int{130, 100, 18}[i%3])
	}
	b.WriteString("```\n```lines\n" + `light over week : 20 mol/m2/d; 7 mol/m2/d from 2026-W45; 12 mol/m2/d from 2027-W07; 22 mol/m2/d from 2027-W14
air : 19 degC
hands over week : 100 %
keeps : 85 %
full : 1.3
first = first_flower(planting.sown, light, air)
bearing = after(first) * before(planting.topped)
opens = truss_pace(air, planting.kind) * week_days * bearing -> truss/stem
most : 4 fruit/truss
sets = most * set_limit(air) * set_by_light(light) -> fruit/truss
new_fruit = opens * sets * planting.density -> fruit/m2
ripe = ripening(new_fruit, air, days_factor(planting.kind)) * before(planting.cleared) -> fruit/m2
green = hanging(new_fruit, air, days_factor(planting.kind)) -> fruit/m2 level
weighs = fruit_grown(new_fruit, air, light, planting.density * before(planting.topped), planting.fruit_weight * full, dry_matter(planting.kind), days_factor(planting.kind)) -> g/fruit
taken = picked(ripe, hands, keeps, unpicked_days("Mon Thu"), planting.cleared) -> fruit/m2
harvest = taken * weighs * planting.floor -> kg
all = total(harvest) -> kg
` + "```\n")
	return b.String()
}

// BenchmarkThousandPlantings measures a book of 1,000 plantings: from its text to the
// plain pass, and an edit that every planting hangs on. Each is to take under a second.
func BenchmarkThousandPlantings(b *testing.B) {
	text := []byte(manyPlantings(1000))
	open := func() *engine.Desk {
		d, err := engine.Open("many.md", text, engine.Options{Today: week.Day(20500)})
		if err != nil {
			b.Fatal(err)
		}
		return d
	}
	b.Run("open, plain pass included", func(b *testing.B) {
		for b.Loop() {
			open()
		}
	})
	b.Run("edit of the air", func(b *testing.B) {
		d, n := open(), 0
		for b.Loop() {
			n++
			doc, _, fault := book.Edit{Kind: book.SetLine, Name: "air", Text: book.Verbatim(fmt.Sprintf("air : %d degC", 18+n%3))}.Apply(d.Book.Doc)
			if fault != nil {
				b.Fatal(fault.Message)
			}
			d, _ = d.Next(doc)
		}
	})
}

// What is measured is a crop: twenty such plantings bear, and none of their cells fails.
func TestManyPlantingsBear(t *testing.T) {
	d, err := engine.Open("many.md", []byte(manyPlantings(20)), engine.Options{Today: week.Day(20500)})
	if err != nil {
		t.Fatal(err)
	}
	v, err := d.Value("harvest")
	if err != nil {
		t.Fatal(err)
	}
	total := 0.0
	for _, x := range v.Cells {
		if x != x {
			t.Fatal("a week of a planting has no harvest")
		}
		total += x
	}
	// 20 plantings of 60 m2 on average, at 5 to 40 kg/m2: the yields of short and long
	// crops in print are 8 to 22 (Ylaranta & Ryynanen, study of 1977), cherry less.
	if total < 20*60*5 || total > 20*60*40 {
		t.Errorf("%v kg in all", total)
	}
}
