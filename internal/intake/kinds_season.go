package intake

import "hemwright/internal/show/show"

var calendar = &table[show.Entry]{
	one: "entry of the calendar", many: "entries of the calendar", page: "date", need: []string{"date", "what", "kind"},
	rows: func(h *show.House) *[]show.Entry { return &h.Calendar },
	keys: []func(*show.Entry) string{
		func(e *show.Entry) string { return key(e.Day.String(), e.Start.String(), e.What) },
		func(e *show.Entry) string { return e.What },
		func(e *show.Entry) string { return key(e.Day.String(), e.Start.String()) },
	},
	cols: []column[show.Entry]{
		{name: "date", at: func(e *show.Entry) any { return &e.Day }, hard: true},
		{name: "weekday"},
		{name: "start_time start", at: func(e *show.Entry) any { return &e.Start }, early: true},
		{name: "duration", at: func(e *show.Entry) any { return &e.Minutes }, unit: "min"},
		{name: "what", at: func(e *show.Entry) any { return &e.What }},
		{name: "who", at: func(e *show.Entry) any { return &e.Who }},
		{name: "kind", at: func(e *show.Entry) any { return &e.Kind }},
	},
	finish: dated,
}

var performances = &table[show.Performance]{
	one: "performance", many: "performances", need: []string{"performance_id", "date"}, single: true, letter: "N", digits: 1,
	rows: func(h *show.House) *[]show.Performance { return &h.Performances },
	keys: []func(*show.Performance) string{func(p *show.Performance) string { return string(p.ID) }},
	cols: []column[show.Performance]{
		{name: "performance_id", at: func(p *show.Performance) any { return &p.ID }, hard: true},
		{name: "date", at: func(p *show.Performance) any { return &p.Day }},
		{name: "start_time start", at: func(p *show.Performance) any { return &p.Start }},
		{name: "cast", at: func(p *show.Performance) any { return &p.Cast }},
		{name: "note notes", at: func(p *show.Performance) any { return &p.Note }},
	},
}

var budget = &table[show.BudgetLine]{
	one: "line of the budget", many: "lines of the budget", page: "budget", need: []string{"line", "planned"}, single: true,
	rows: func(h *show.House) *[]show.BudgetLine { return &h.Budget },
	keys: []func(*show.BudgetLine) string{func(b *show.BudgetLine) string { return b.Line }},
	cols: []column[show.BudgetLine]{
		{name: "line", at: func(b *show.BudgetLine) any { return &b.Line }, hard: true},
		{name: "planned", at: func(b *show.BudgetLine) any { return &b.Planned }},
		{name: "held_back", at: func(b *show.BudgetLine) any { return &b.HeldBack }},
		{name: "note notes", at: func(b *show.BudgetLine) any { return &b.Note }},
	},
	finish: heldBack,
}

var receipts = &table[show.Receipt]{
	one: "receipt", many: "receipts", need: []string{"receipt_id", "sum"}, single: true, letter: "E", digits: 2,
	rows: func(h *show.House) *[]show.Receipt { return &h.Receipts },
	keys: []func(*show.Receipt) string{func(r *show.Receipt) string { return string(r.ID) }},
	cols: []column[show.Receipt]{
		{name: "receipt_id", at: func(r *show.Receipt) any { return &r.ID }, hard: true},
		{name: "date", at: func(r *show.Receipt) any { return &r.Day }},
		{name: "shop", at: func(r *show.Receipt) any { return &r.Shop }},
		{name: "line", at: func(r *show.Receipt) any { return &r.Line }},
		{name: "sum", at: func(r *show.Receipt) any { return &r.Sum }},
		{name: "paid_by", at: func(r *show.Receipt) any { return &r.PaidBy }, to: toHelper},
		{name: "paid_back_on", at: func(r *show.Receipt) any { return &r.PaidBackOn }},
		{name: "slip", at: func(r *show.Receipt) any { return &r.Slip }},
	},
}

var loans = &table[show.Loan]{
	one: "loan", many: "loans", need: []string{"loan_id", "whom"}, single: true, letter: "B", digits: 2,
	rows: func(h *show.House) *[]show.Loan { return &h.Loans },
	keys: []func(*show.Loan) string{func(l *show.Loan) string { return string(l.ID) }},
	cols: []column[show.Loan]{
		{name: "loan_id", at: func(l *show.Loan) any { return &l.ID }, hard: true},
		{name: "direction", at: func(l *show.Loan) any { return &l.Out }, read: oneOf("out", "in"), print: func(l *show.Loan, _ written) string { return word(l.Out, "out", "in") }},
		{name: "whom", at: func(l *show.Loan) any { return &l.Whom }},
		{name: "what", at: func(l *show.Loan) any { return &l.What }},
		{name: "stock_id garment_id", at: func(l *show.Loan) any { return &l.Garment }, to: toGarment},
		{name: "may_cut", at: func(l *show.Loan) any { return &l.MayCut }},
		{name: "may_pin", at: func(l *show.Loan) any { return &l.MayPin }},
		{name: "may_wash", at: func(l *show.Loan) any { return &l.MayWash }},
		{name: "deposit", at: func(l *show.Loan) any { return &l.Deposit }},
		{name: "cleaning", at: func(l *show.Loan) any { return &l.Cleaning }},
		{name: "due", at: func(l *show.Loan) any { return &l.Due }},
		{name: "state", at: func(l *show.Loan) any { return &l.State }},
		{name: "piece_id", at: func(l *show.Loan) any { return &l.Piece }, to: toPiece},
		{name: "since", at: func(l *show.Loan) any { return &l.Since }},
		{name: "fee", at: func(l *show.Loan) any { return &l.Fee }},
		{name: "note notes", at: func(l *show.Loan) any { return &l.Note }},
	},
}

var kits = &table[show.Kit]{
	one: "kit", many: "kits", need: []string{"kit_id", "helper_id"}, single: true, letter: "T", digits: 2,
	rows: func(h *show.House) *[]show.Kit { return &h.Kits },
	keys: []func(*show.Kit) string{func(k *show.Kit) string { return string(k.ID) }},
	cols: []column[show.Kit]{
		{name: "kit_id", at: func(k *show.Kit) any { return &k.ID }, hard: true},
		{name: "helper_id", at: func(k *show.Kit) any { return &k.Helper }, to: toHelper},
		{name: "what", at: func(k *show.Kit) any { return &k.What }},
		{name: "piece_ids", at: func(k *show.Kit) any { return &k.Pieces }, to: toPiece},
		{name: "out_on", at: func(k *show.Kit) any { return &k.OutOn }},
		{name: "due_on", at: func(k *show.Kit) any { return &k.DueOn }},
		{name: "back_on", at: func(k *show.Kit) any { return &k.BackOn }},
		{name: "state", at: func(k *show.Kit) any { return &k.State }},
		{name: "parts", at: func(k *show.Kit) any { return &k.Parts }},
		{name: "finished_when", at: func(k *show.Kit) any { return &k.FinishedWhen }},
	},
}

var notes = &table[show.Note]{
	one: "note", many: "notes", need: []string{"note_id", "note"}, single: true, letter: "O", digits: 2,
	rows: func(h *show.House) *[]show.Note { return &h.Notes },
	keys: []func(*show.Note) string{func(n *show.Note) string { return string(n.ID) }},
	cols: []column[show.Note]{
		{name: "note_id", at: func(n *show.Note) any { return &n.ID }, hard: true},
		{name: "on", at: func(n *show.Note) any { return &n.Day }},
		{name: "from_whom", at: func(n *show.Note) any { return &n.From }},
		{name: "role_id", at: func(n *show.Note) any { return &n.Role }, to: toRole},
		{name: "piece_id", at: func(n *show.Note) any { return &n.Piece }, to: toPiece},
		{name: "note", at: func(n *show.Note) any { return &n.What }},
		{name: "minutes", at: func(n *show.Note) any { return &n.Minutes }, unit: "min"},
		{name: "before", at: func(n *show.Note) any { return &n.Before }},
		{name: "state", at: func(n *show.Note) any { return &n.State }},
		{name: "blocks", at: func(n *show.Note) any { return &n.Blocks }},
		{name: "helper_id", at: func(n *show.Note) any { return &n.Helper }, to: toHelper},
	},
}

var asks = &table[show.Ask]{
	one: "ask", many: "asks", need: []string{"ask_id", "what"}, single: true, letter: "Q", digits: 2,
	rows: func(h *show.House) *[]show.Ask { return &h.Asks },
	keys: []func(*show.Ask) string{func(a *show.Ask) string { return string(a.ID) }},
	cols: []column[show.Ask]{
		{name: "ask_id", at: func(a *show.Ask) any { return &a.ID }, hard: true},
		{name: "asked_on", at: func(a *show.Ask) any { return &a.Day }},
		{name: "of_whom", at: func(a *show.Ask) any { return &a.OfWhom }},
		{name: "what", at: func(a *show.Ask) any { return &a.What }},
		{name: "promised", at: func(a *show.Ask) any { return &a.Promised }},
		{name: "seen_on", at: func(a *show.Ask) any { return &a.SeenOn }},
		{name: "result", at: func(a *show.Ask) any { return &a.Result }},
		{name: "saves", at: func(a *show.Ask) any { return &a.Saves }},
	},
}

var pins = &table[show.Pin]{
	one: "pin", many: "pins", need: []string{"pinned_piece", "source"}, single: true,
	rows: func(h *show.House) *[]show.Pin { return &h.Pins },
	keys: []func(*show.Pin) string{func(p *show.Pin) string { return string(p.Piece) }},
	cols: []column[show.Pin]{
		{name: "pinned_piece", at: func(p *show.Pin) any { return &p.Piece }, to: toPiece, hard: true},
		{name: "source", at: func(p *show.Pin) any { return &p.Source }},
		{name: "stock_id garment_id", at: func(p *show.Pin) any { return &p.Garment }},
		{name: "find_id", at: func(p *show.Pin) any { return &p.Find }},
		{name: "cloth_id", at: func(p *show.Pin) any { return &p.Cloth }},
		{name: "on", at: func(p *show.Pin) any { return &p.Day }},
		{name: "who", at: func(p *show.Pin) any { return &p.Who }},
	},
}

var deeds = &table[show.Done]{
	one: "deed", many: "deeds", need: []string{"done_to_piece", "deed"},
	rows: func(h *show.House) *[]show.Done { return &h.Done },
	keys: []func(*show.Done) string{func(d *show.Done) string { return key(d.Piece, d.What, d.Detail, d.Day) }},
	cols: []column[show.Done]{
		{name: "done_to_piece", at: func(d *show.Done) any { return &d.Piece }, to: toPiece, hard: true},
		{name: "deed", at: func(d *show.Done) any { return &d.What }, early: true},
		{name: "detail", at: func(d *show.Done) any { return &d.Detail }, early: true},
		{name: "on", at: func(d *show.Done) any { return &d.Day }, early: true},
	},
}

var rehearsals = &table[show.Rehearsed]{
	one: "rehearsed change", many: "rehearsed changes", need: []string{"rehearsed_by", "from_scene", "to_scene"},
	rows: func(h *show.House) *[]show.Rehearsed { return &h.Rehearsed },
	keys: []func(*show.Rehearsed) string{func(r *show.Rehearsed) string { return key(r.Performer, r.From, r.To, r.Seconds, r.Day) }},
	cols: []column[show.Rehearsed]{
		{name: "rehearsed_by", at: func(r *show.Rehearsed) any { return &r.Performer }, to: toPerformer, hard: true},
		{name: "from_scene", at: func(r *show.Rehearsed) any { return &r.From }, to: toScene, hard: true},
		{name: "to_scene", at: func(r *show.Rehearsed) any { return &r.To }, to: toScene, hard: true},
		{name: "took_seconds", at: func(r *show.Rehearsed) any { return &r.Seconds }, early: true},
		{name: "on", at: func(r *show.Rehearsed) any { return &r.Day }, early: true},
	},
}

var logs = &table[show.Logged]{
	one: "logged work", many: "logged work", need: []string{"logged_work", "took"},
	rows: func(h *show.House) *[]show.Logged { return &h.Logged },
	keys: []func(*show.Logged) string{func(l *show.Logged) string { return key(l.What, l.Helper, l.Piece, l.Minutes, l.Day) }},
	cols: []column[show.Logged]{
		{name: "logged_work", at: func(l *show.Logged) any { return &l.What }, hard: true},
		{name: "helper_id", at: func(l *show.Logged) any { return &l.Helper }, to: toHelper, early: true},
		{name: "piece_id", at: func(l *show.Logged) any { return &l.Piece }, to: toPiece, early: true},
		{name: "took", at: func(l *show.Logged) any { return &l.Minutes }, unit: "min", early: true},
		{name: "thought", at: func(l *show.Logged) any { return &l.Thought }, unit: "min", early: true},
		{name: "on", at: func(l *show.Logged) any { return &l.Day }, early: true},
	},
}

var handLaid = &table[show.HandLaid]{
	one: "part laid by hand", many: "parts laid by hand", need: []string{"laid_on", "part", "from_left", "from_top"},
	rows: func(h *show.House) *[]show.HandLaid { return &h.HandLaid },
	keys: []func(*show.HandLaid) string{func(l *show.HandLaid) string { return key(l.Cloth, l.Piece, l.Part, l.X, l.Y) }},
	cols: []column[show.HandLaid]{
		{name: "laid_on", at: func(l *show.HandLaid) any { return &l.Cloth }, hard: true},
		{name: "piece_id", at: func(l *show.HandLaid) any { return &l.Piece }, to: toPiece, hard: true},
		{name: "part", at: func(l *show.HandLaid) any { return &l.Part }, hard: true},
		{name: "turned_by", at: func(l *show.HandLaid) any { return &l.Turn }, early: true},
		{name: "turned_over", at: func(l *show.HandLaid) any { return &l.Mirror }, early: true},
		{name: "from_left", at: func(l *show.HandLaid) any { return &l.X }, early: true},
		{name: "from_top", at: func(l *show.HandLaid) any { return &l.Y }, early: true},
	},
}

var letDowns = &table[show.LetDown]{
	one: "letting out", many: "lettings out", need: []string{"let_out_of", "by"},
	rows: func(h *show.House) *[]show.LetDown { return &h.LetDowns },
	keys: []func(*show.LetDown) string{func(l *show.LetDown) string { return key(l.Garment, l.By, l.Day, l.Words) }},
	cols: []column[show.LetDown]{
		{name: "let_out_of", at: func(l *show.LetDown) any { return &l.Garment }, hard: true},
		{name: "by", at: func(l *show.LetDown) any { return &l.By }, early: true},
		{name: "left", at: func(l *show.LetDown) any { return &l.Left }, early: true},
		{name: "on", at: func(l *show.LetDown) any { return &l.Day }, early: true},
		{name: "how", at: func(l *show.LetDown) any { return &l.Words }, early: true},
	},
}

var decisions = &table[show.Decision]{
	one: "decision", many: "decisions", need: []string{"caution", "decided"},
	rows: func(h *show.House) *[]show.Decision { return &h.Decisions },
	keys: []func(*show.Decision) string{func(d *show.Decision) string { return key(d.Caution, d.Who, d.What, d.Day) }},
	cols: []column[show.Decision]{
		{name: "caution", at: func(d *show.Decision) any { return &d.Caution }, hard: true},
		{name: "who", at: func(d *show.Decision) any { return &d.Who }, early: true},
		{name: "decided", at: func(d *show.Decision) any { return &d.What }, early: true},
		{name: "on", at: func(d *show.Decision) any { return &d.Day }, early: true},
	},
}

var origins = &table[show.Origin]{
	one: "assumption", many: "assumptions", need: []string{"assumed_kind", "code", "field"},
	rows: func(h *show.House) *[]show.Origin { return &h.Origins },
	keys: []func(*show.Origin) string{func(o *show.Origin) string { return key(o.Kind, o.Code, o.Field) }},
	cols: []column[show.Origin]{
		{name: "assumed_kind", at: func(o *show.Origin) any { return &o.Kind }, hard: true},
		{name: "code", at: func(o *show.Origin) any { return &o.Code }, hard: true},
		{name: "field", at: func(o *show.Origin) any { return &o.Field }, hard: true},
		{name: "how", at: func(o *show.Origin) any { return &o.How }},
		{name: "rule", at: func(o *show.Origin) any { return &o.Rule }},
		{name: "on", at: func(o *show.Origin) any { return &o.Day }},
		{name: "who", at: func(o *show.Origin) any { return &o.Who }},
	},
}
