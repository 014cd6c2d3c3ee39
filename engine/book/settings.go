package book

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Defaults and bounds of the settings that a book may leave out.
const (
	defaultDraws = 1024
	mostDraws    = 1_000_000
	defaultSeed  = 1
	defaultYears = 5
	mostYears    = 30
	// mostThingsAdded bounds the things, since each is tried by itself.
	mostThingsAdded = 100
)

// settingKeys are the keys of a settings block, in the order of the language page.
var settingKeys = []string{"title", "season", "currency", "latitude", "elevation", "things", "as_of", "closed", "draws", "seed", "years"}

// settings reads the settings blocks. A setting that cannot be read keeps its
// default, and its fault is said.
func (a *assembler) settings(today week.Day) {
	given := map[string]*syntax.Setting{}
	place := syntax.Place{Line: 1, Col: 1, Len: 1}
	unread := map[string]*syntax.Error{} // rows that reading refused, by their key
	for i, b := range a.kind("settings") {
		if i == 0 {
			place = b.block.Place
		}
		for _, part := range b.rows {
			item, ok := part.Item.(*syntax.Setting)
			if !ok {
				err := a.readFault(part)
				a.report(err)
				unread[firstWord(part.Text)] = err
				continue
			}
			key := item.Key.Text
			if !slices.Contains(settingKeys, key) {
				a.report(unknownSetting.near(a.near(key, fixed(settingKeys)), key, item.Key.Place, key))
			} else if before := given[key]; before != nil {
				a.report(repeatedKey.at(key, item.Key.Place, key, strconv.Itoa(before.Key.Line)))
			} else {
				given[key] = item
			}
		}
	}
	value := func(key string) (syntax.Word, bool) {
		if s := given[key]; s != nil {
			return s.Value, true
		}
		return syntax.Word{}, false
	}
	var nothingRead *syntax.Error // a book that reading refused as a whole: its fault says enough
	if len(a.blocks) == 0 && len(a.Doc.Errors) > 0 {
		nothingRead = a.Doc.Errors[0]
	}
	var err *syntax.Error
	s := &a.Settings
	s.Draws, s.Seed, s.Years, s.AsOf = defaultDraws, defaultSeed, defaultYears, today
	if w, ok := value("title"); ok {
		a.Title = unquoted(w.Text)
	}
	if w, ok := value("things"); ok {
		a.things(w)
	}
	a.Units, _ = unit.NewSystem(s.Things) // each thing was tried alone
	a.literals.units = a.Units
	if w, ok := value("season"); ok {
		a.seasonFault = a.season(w)
	} else if a.seasonFault = unread["season"]; a.seasonFault == nil {
		a.seasonFault = cmp.Or(nothingRead, missingSeason.at("season", place))
	}
	if a.seasonFault != nil {
		a.report(a.seasonFault)
	}
	if w, ok := value("currency"); ok {
		if s.Currency, err = a.currency(w); err != nil {
			a.report(err)
		}
	} else if unread["currency"] == nil && nothingRead == nil {
		a.report(missingCurrency.at("currency", place))
	}
	if w, ok := value("latitude"); ok {
		s.Latitude, s.HasLatitude = a.quantity("latitude", w, "deg", -90, 90)
	}
	if w, ok := value("elevation"); ok {
		s.Elevation, s.HasElevation = a.quantity("elevation", w, "m", -mostElevation, mostElevation)
	}
	if w, ok := value("as_of"); ok {
		if day, err := week.ParseDay(w.Text); err != nil {
			a.report(noSuchDay.at("as_of", w.Place, err.Error()))
		} else {
			s.AsOf, s.HasAsOf = day, true
		}
	}
	if w, ok := value("closed"); ok {
		a.closed(w)
	}
	if w, ok := value("draws"); ok {
		s.Draws = a.count("draws", w, 1, mostDraws, defaultDraws)
	}
	if w, ok := value("seed"); ok {
		seed, err := strconv.ParseUint(w.Text, 10, 64)
		if err != nil {
			a.report(badCount.at("seed", w.Place, "seed", "0", "18446744073709551615", w.Text, "1"))
			seed = defaultSeed
		}
		s.Seed = seed
	}
	if w, ok := value("years"); ok {
		s.Years = a.count("years", w, 1, mostYears, defaultYears)
	}
	if s.HasSeason {
		s.Standing = week.NewStanding(s.Season, s.AsOf, s.Closed)
	}
}

// mostElevation bounds the elevation, in m: nothing grows further from the level of the sea.
const mostElevation = 10_000

// season reads "2026-W33 .. 2027-W32".
func (a *assembler) season(w syntax.Word) *syntax.Error {
	from, to, ok := strings.Cut(w.Text, "..")
	if !ok {
		return badSeason.at("season", w.Place, seasonForm)
	}
	first, err := week.ParseWeek(strings.TrimSpace(from))
	if err != nil {
		return badSeason.at("season", w.Place, err.Error())
	}
	last, err := week.ParseWeek(strings.TrimSpace(to))
	if err != nil {
		return badSeason.at("season", w.Place, err.Error())
	}
	season, err := week.NewSeason(first, last)
	if err != nil {
		return badSeason.at("season", w.Place, err.Error())
	}
	a.Settings.Season, a.Settings.HasSeason = season, true
	return nil
}

// closed reads the weeks closed early, by hand. A wrong one is left out.
func (a *assembler) closed(w syntax.Word) {
	for _, word := range splitWords(w) {
		closed, err := week.ParseWeek(word.Text)
		if err != nil {
			a.report(noSuchWeek.at("closed", word.Place, err.Error()))
			continue
		}
		if a.Settings.HasSeason {
			if _, in := a.Settings.Season.Index(closed); !in {
				a.report(notInSeason("closed", word, a.Settings.Season))
				continue
			}
		}
		a.Settings.Closed = append(a.Settings.Closed, closed)
	}
}

// currency reads a code of ISO 4217.
func (a *assembler) currency(w syntax.Word) (string, *syntax.Error) {
	// A money's dimension is its code, and no other unit has three capitals for one.
	u, err := a.Units.Parse(w.Text)
	if err == nil && len(w.Text) == 3 && u.Dim.String() == w.Text+"1" && w.Text == strings.ToUpper(w.Text) {
		return w.Text, nil
	}
	return "", unknownCurrency.near(a.near(w.Text, a.currencies), "currency", w.Place, w.Text)
}

// currencies gives every money code.
func (a *assembler) currencies() (codes []string) {
	for _, symbol := range a.Units.Symbols() {
		if len(symbol) == 3 && symbol == strings.ToUpper(symbol) {
			codes = append(codes, symbol)
		}
	}
	return codes
}

// quantity reads a number with a unit and gives it in unit want.
func (a *assembler) quantity(key string, w syntax.Word, want string, low, high int) (float64, bool) {
	to, _ := a.Units.Parse(want)
	l, err := syntax.ParseLiteral(w.Text, w.Place)
	if err != nil {
		err.Name = key
		a.report(err)
		return 0, false
	}
	f := form{name: key, kind: Number, unit: to}
	v, err := a.value(l, &f, Key{Name: key}, a.Units.One())
	if err == nil && v.Spread != nil {
		err = noRange.at(key, w.Place, w.Text, bookHasOne+key)
	}
	if err != nil {
		a.report(err)
		return 0, false
	}
	mul, add, _ := unit.Convert(v.Unit, to) // value saw that it converts
	x := v.Number*mul + add
	if x < float64(low) || x > float64(high) {
		a.report(outsideLimits.at(key, w.Place, key, strconv.Itoa(low)+" "+want, strconv.Itoa(high)+" "+want, w.Text, "42 "+want))
		return 0, false
	}
	return x, true
}

// things reads the countable units that the book adds. One that the language
// cannot take is left out.
func (a *assembler) things(w syntax.Word) {
	words := splitWords(w)
	if len(words) > mostThingsAdded {
		a.report(mostThings.at("things", w.Place, strconv.Itoa(len(words)), strconv.Itoa(mostThingsAdded)))
		words = words[:mostThingsAdded]
	}
	for _, word := range words {
		if _, err := unit.NewSystem([]string{word.Text}); err != nil {
			a.report(badThing.at("things", word.Place, err.Error()))
			continue
		}
		a.Settings.Things = append(a.Settings.Things, word.Text)
	}
}

// count reads a whole number from low to high.
func (a *assembler) count(key string, w syntax.Word, low, high, otherwise int) int {
	n, err := strconv.Atoi(w.Text)
	if err != nil || n < low || n > high {
		a.report(badCount.at(key, w.Place, key, strconv.Itoa(low), strconv.Itoa(high), w.Text, strconv.Itoa(otherwise)))
		return otherwise
	}
	return n
}
