package cli

// Deed is one thing a person can do, and where.
type Deed struct {
	Asks    string // in the person's words
	Method  string // of the workshop
	Command string
	Page    string
	Sheet   string // the name of a sheet, where paper helps
}

// Deeds is the one table of what a person can do. A test walks it: every
// method, command, page and sheet named must be there.
var Deeds = []Deed{
	{"What do I do tonight? How far are we?", "Prepared", "today", "/", "work"},
	{"Who wears what when?", "Prepared", "changes", "/who", "my clothes"},
	{"Who is never off long enough to change?", "Prepared", "changes", "/running", "change sheet"},
	{"What do I need in all?", "Prepared", "needs", "/pieces", ""},
	{"Does this fit, and after what work?", "Fits", "fit", "/rail", "rail list"},
	{"Where does every piece come from?", "Prepared", "plan", "/pieces", ""},
	{"What is short, and what would more of it buy?", "Short", "short", "/pieces?short=1", ""},
	{"What would the next best for this one cost?", "Instead", "instead", "/pieces/C047?instead=1", ""},
	{"This one I decide myself.", "Pin", "pin", "/pieces", ""},
	{"What do I still buy?", "Prepared", "money", "/money", "shopping list"},
	{"Will this cloth do?", "Prepared", "cut", "/shelf", "cut sheet"},
	{"What does this give when it is cut up?", "CutUp", "cut-up", "/rail/S011/cut-up", "unpick card"},
	{"Does this one do for these, and if not, what do I change?", "ClothDoes", "does", "/shelf/K14", ""},
	{"Have we the hours? Who does what?", "Prepared", "work", "/workroom", "work"},
	{"When do I fit whom?", "Prepared", "fittings", "/fittings", "my clothes"},
	{"Have we the money?", "Prepared", "money", "/money", "money"},
	{"What could hurt or upset somebody?", "Prepared", "cautions", "/cautions", ""},
	{"Give everybody their paper.", "Prepared", "print", "/sheets", "wash list"},
	{"Take that back.", "Undo", "undo", "", ""},
	{"Do it again after all.", "Redo", "redo", "", ""},
	{"Bring in what I have.", "Import", "import", "/start", ""},
	{"Here is what I have, as I wrote it.", "Tell", "tell", "/start", ""},
	{"She is on in this scene.", "Ticks", "", "/who/grid", ""},
	{"She leaves at this minute, on that side.", "SetTimes", "", "/who/grid", ""},
	{"Measure with a phone.", "ToMeasure", "", "/phone", "measuring"},
	{"Not measured, or at home.", "NoMeasuring", "", "/phone", "measuring"},
	{"A picture of it.", "AddPhoto", "", "/phone", ""},
	{"Should I buy this?", "Appraise", "shop", "/shop", ""},
	{"I bought it.", "AddFind", "", "/shop", ""},
	{"What do I take to the shop?", "Pocket", "pocket", "/pocket.html", ""},
	{"She is away tonight; who steps in?", "Glance", "away", "/performers/P09/away", ""},
	{"It took this long, at best.", "Rehearse", "", "/running", "change sheet"},
	{"Which garment for whom, in this set?", "Glance", "", "/rail/fit", ""},
	{"What can be done to it, and how long does that take?", "Glance", "", "/rail/operations", ""},
	{"It took me this long.", "Took", "", "/workroom", "work"},
	{"They wear what a time and a rank wear.", "GiveLook", "", "/looks", ""},
	{"Who changes, as I tick?", "Running", "", "/who/grid", ""},
	{"What was that line again?", "SettleKept", "", "/start", ""},
	{"This is not right; let me write it.", "SaveRow", "", "/edit/garment", ""},
	{"All of these become that.", "SetEach", "", "/list/garment", ""},
	{"The same again, one size up.", "Again", "", "/list/garment", ""},
	{"The others of the group wear that too.", "ToGroup", "", "/list/look", ""},
	{"None of these is there any more.", "RemoveEach", "", "/list/garment", ""},
	{"That column means something else.", "TellAs", "import", "/start", ""},
	{"Here is a file of it.", "TakeFile", "import", "/start", ""},
	{"What would you take that for?", "Look", "", "/start", ""},
	{"When must what be done by?", "CountBack", "", "/calendar", ""},
	{"Put those dates into my calendar.", "TakeDates", "", "/calendar", ""},
	{"That one is not there any more.", "RemoveRow", "", "/edit/garment", ""},
	{"The folder for the next person.", "Archive", "bundle", "/show.zip", ""},
	{"My dates, for my calendar.", "Dates", "dates", "/dates.ics", ""},
	{"Give me all of it back.", "Export", "export", "/everything.xlsx", ""},
	{"Show lengths in inches.", "SetUnits", "units", "", ""},
	{"What changed since this was printed?", "Changed", "changed", "/changed", "my clothes"},
	{"Copy the house.", "Backup", "backup", "", ""},
	{"Which copies are there?", "Copies", "copies", "/house", ""},
	{"As it was in that copy.", "Restore", "restore", "/house", ""},
	{"When are people erased?", "SetEraseDay", "erase", "/house", ""},
	{"What goes when she is erased?", "BeforeErasing", "erase", "/house/erase", ""},
	{"Forget her. Forget them all.", "Erase", "erase", "/house/erase", "to destroy"},
	{"What do you keep about my child?", "Prepared", "numbers", "/house", "our numbers"},
}
