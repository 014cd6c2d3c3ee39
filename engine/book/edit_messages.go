package book

// The messages about edits: what is wrong with a change, not with a book. They
// stand apart from those about books because they are said to the person who made
// the change, and are forgotten with it.

// editMessages is every one of them; a test has an example for each.
var editMessages []*message

func refuses(code, says, hint string) *message {
	m := &message{code, says, hint}
	editMessages = append(editMessages, m)
	return m
}

var (
	unknownEdit = refuses("unknown-edit", "there is no change called {1}",
		"write one of set_line, add_line, remove_line, write_prose, set_cell, add_record, pin, unpin and so on")
	changedSince = refuses("changed-since", "{1} has been changed since you saw it",
		"look at it as it is now, and change it again")
	grownTooLarge = refuses("grown-too-large", "with this change the book would be too large",
		"a book holds 32 MB and 250,000 lines: split it, one book a season")
)

// What would reach further than the edit says.
var (
	twoRows = refuses("two-rows", "this is more than one row",
		"write one row at a time")
	emptyRow = refuses("empty-row", "this row is empty",
		"to take a row out, remove it")
	noCharacters = refuses("no-characters", "here are bytes that are no characters",
		"write plain text in UTF-8")
	endsBlock = refuses("ends-block", "a row that begins with {1} would end the block it stands in",
		"begin the row with a name")
	opensBlock = refuses("opens-block", "this text opens something and does not close it, so it would take in what comes below it",
		"close a block with ``` on a line of its own, and a remark that begins with <!-- with -->")
	reachesFurther = refuses("reaches-further", "this would change what stands around it as well",
		"leave an empty line at its end, and close what it opens")
	openEnd = refuses("open-end", "above the place for {1} something was opened that is not closed",
		"close the block above with ``` on a line of its own")
	notInCell = refuses("not-in-cell", "{1} has a meaning of its own in a row, so it cannot stand in a cell",
		"leave it out, or write the cell in quotes")
	openQuote = refuses("cell-quote", "a quote opens here and never closes",
		"close it with \"; for inches write in")
)

// What is not there, or there already.
var (
	noSuchLine = refuses("no-such-line", "there is no line called {1}",
		"look at the book as it is now")
	noSuchBlock = refuses("no-such-block", "there is no block of lines number {1}; there are {2}",
		"name the line below which the new one stands")
	noSuchList = refuses("no-such-list", "there is no list called {1}",
		"look at the book as it is now")
	noSuchRecords = refuses("no-such-records", "there are no records called {1}",
		"look at the book as it is now")
	noSuchScenario = refuses("no-such-scenario", "there is no scenario called {1}",
		"write one first: ```scenario later \"Sow three weeks later\"")
	noSuchMember = refuses("no-such-member", "{1} has no member {2}",
		"add the member first")
	noSuchColumn = refuses("no-such-column", "{1} has no column {2}",
		"the columns stand in the first row")
	noSuchRecord = refuses("no-such-record", "{1} have no row number {2}; there are {3}",
		"look at the records as they are now")
	noSuchPin = refuses("no-such-pin", "{1} is not pinned",
		"look at the pins as they are now")
	noSuchOverride = refuses("no-such-override", "the scenario {1} leaves {2} as it is",
		"look at the scenario as it is now")
	noSuchSetting = refuses("no-such-setting", "the book does not set {1}, so there is nothing to take out",
		"look at the settings as they are now")
	memberTaken = refuses("member-taken", "{1} has a member {2} already",
		"choose another name, or change that member")
	noMemberName = refuses("member-name", "{1} cannot be a member: members are lower-case words joined by _",
		"for example: long_house")
	noSettingName = refuses("setting-name", "{1} cannot be a setting",
		"settings are title, season, currency, latitude, elevation, things, as_of, closed, draws, seed, years")
	noDay = refuses("no-day", "a record needs its day",
		"for example: 2027-03-08")
	noValue = refuses("no-value", "there is no value here",
		"write one, for example 140 lb; to go back to what is computed, take the row out")
	unreadHeader = refuses("unread-header", "the first row of {1} does not read, so its columns are not known",
		"mend the first row")
	unreadRow = refuses("unread-row", "this row has {1} cells where its table has {2}",
		"mend the row first")
)
