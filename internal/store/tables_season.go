package store

import "hemwright/internal/show/show"

// The archive's other half: days, money, and what was decided and done.

var findTable = &mapping[show.Find]{
	name: "find", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Find { return &h.Finds },
	fields: append([]field[show.Find]{
		{name: "code", at: func(f *show.Find) any { return &f.ID }},
		{name: "seen_on", at: func(f *show.Find) any { return &f.SeenOn }},
		{name: "seen_at", at: func(f *show.Find) any { return &f.Where }},
		{name: "price", at: func(f *show.Find) any { return &f.Price }},
		{name: "decision", at: func(f *show.Find) any { return &f.Decision }},
		{name: "garment", at: func(f *show.Find) any { return &f.Garment.ID }},
	}, garmentFields(func(f *show.Find) *show.Garment { return &f.Garment })...),
}

var entryTable = &mapping[show.Entry]{
	name: "calendar", life: ofShow, keys: 3, many: true,
	list: func(h *show.House) *[]show.Entry { return &h.Calendar },
	fields: []field[show.Entry]{
		{name: "day", at: func(e *show.Entry) any { return (*daytext)(&e.Day) }},
		{name: "start_minute", at: func(e *show.Entry) any { return &e.Start }},
		{name: "what", at: func(e *show.Entry) any { return &e.What }},
		{name: "duration", at: func(e *show.Entry) any { return &e.Minutes }},
		{name: "who", at: func(e *show.Entry) any { return &e.Who }},
		{name: "kind", at: func(e *show.Entry) any { return &e.Kind }},
	},
}

var performanceTable = &mapping[show.Performance]{
	name: "performance", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Performance { return &h.Performances },
	fields: []field[show.Performance]{
		{name: "code", at: func(p *show.Performance) any { return &p.ID }},
		{name: "day", at: func(p *show.Performance) any { return &p.Day }},
		{name: "start_minute", at: func(p *show.Performance) any { return &p.Start }},
		{name: "in_cast", at: func(p *show.Performance) any { return &p.Cast }},
		{name: "note", at: func(p *show.Performance) any { return &p.Note }},
	},
}

var budgetTable = &mapping[show.BudgetLine]{
	name: "budget", life: ofShow, keys: 1, many: true,
	list: func(h *show.House) *[]show.BudgetLine { return &h.Budget },
	fields: []field[show.BudgetLine]{
		{name: "line", at: func(b *show.BudgetLine) any { return &b.Line }},
		{name: "planned", at: func(b *show.BudgetLine) any { return &b.Planned }},
		{name: "held_back", at: func(b *show.BudgetLine) any { return &b.HeldBack }},
		{name: "note", at: func(b *show.BudgetLine) any { return &b.Note }},
	},
}

var receiptTable = &mapping[show.Receipt]{
	name: "receipt", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Receipt { return &h.Receipts },
	fields: []field[show.Receipt]{
		{name: "code", at: func(r *show.Receipt) any { return &r.ID }},
		{name: "day", at: func(r *show.Receipt) any { return &r.Day }},
		{name: "shop", at: func(r *show.Receipt) any { return &r.Shop }},
		{name: "line", at: func(r *show.Receipt) any { return &r.Line }},
		{name: "sum", at: func(r *show.Receipt) any { return &r.Sum }},
		{name: "paid_by", at: func(r *show.Receipt) any { return &r.PaidBy }, ref: true},
		{name: "paid_back_on", at: func(r *show.Receipt) any { return &r.PaidBackOn }},
		{name: "slip", at: func(r *show.Receipt) any { return &r.Slip }},
	},
}

var loanTable = &mapping[show.Loan]{
	name: "loan", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Loan { return &h.Loans },
	fields: []field[show.Loan]{
		{name: "code", at: func(l *show.Loan) any { return &l.ID }},
		{name: "lent_out", at: func(l *show.Loan) any { return &l.Out }},
		{name: "whom", at: func(l *show.Loan) any { return &l.Whom }},
		{name: "what", at: func(l *show.Loan) any { return &l.What }},
		{name: "garment", at: func(l *show.Loan) any { return &l.Garment }},
		{name: "piece", at: func(l *show.Loan) any { return &l.Piece }, ref: true},
		{name: "may_cut", at: func(l *show.Loan) any { return &l.MayCut }},
		{name: "may_pin", at: func(l *show.Loan) any { return &l.MayPin }},
		{name: "may_wash", at: func(l *show.Loan) any { return &l.MayWash }},
		{name: "deposit", at: func(l *show.Loan) any { return &l.Deposit }},
		{name: "fee", at: func(l *show.Loan) any { return &l.Fee }},
		{name: "cleaning", at: func(l *show.Loan) any { return &l.Cleaning }},
		{name: "since", at: func(l *show.Loan) any { return &l.Since }},
		{name: "due", at: func(l *show.Loan) any { return &l.Due }},
		{name: "state", at: func(l *show.Loan) any { return &l.State }},
		{name: "note", at: func(l *show.Loan) any { return &l.Note }},
	},
}

var kitTable = &mapping[show.Kit]{
	name: "kit", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Kit { return &h.Kits },
	fields: []field[show.Kit]{
		{name: "code", at: func(k *show.Kit) any { return &k.ID }},
		{name: "helper", at: func(k *show.Kit) any { return &k.Helper }, ref: true},
		{name: "what", at: func(k *show.Kit) any { return &k.What }},
		{name: "out_on", at: func(k *show.Kit) any { return &k.OutOn }},
		{name: "due_on", at: func(k *show.Kit) any { return &k.DueOn }},
		{name: "back_on", at: func(k *show.Kit) any { return &k.BackOn }},
		{name: "state", at: func(k *show.Kit) any { return &k.State }},
		{name: "parts", at: func(k *show.Kit) any { return &k.Parts }},
		{name: "finished_when", at: func(k *show.Kit) any { return &k.FinishedWhen }},
	},
}

var kitPieces = &listing[show.Kit, show.PieceID]{
	name: "kit_piece", life: ofShow, parent: "kit", value: "piece",
	list: kitTable.list,
	code: func(k *show.Kit) string { return string(k.ID) },
	in:   func(k *show.Kit) *[]show.PieceID { return &k.Pieces },
}

var noteTable = &mapping[show.Note]{
	name: "note", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Note { return &h.Notes },
	fields: []field[show.Note]{
		{name: "code", at: func(n *show.Note) any { return &n.ID }},
		{name: "day", at: func(n *show.Note) any { return &n.Day }},
		{name: "from_whom", at: func(n *show.Note) any { return &n.From }},
		{name: "role", at: func(n *show.Note) any { return &n.Role }, ref: true},
		{name: "piece", at: func(n *show.Note) any { return &n.Piece }, ref: true},
		{name: "what", at: func(n *show.Note) any { return &n.What }},
		{name: "work", at: func(n *show.Note) any { return &n.Minutes }},
		{name: "before", at: func(n *show.Note) any { return &n.Before }},
		{name: "state", at: func(n *show.Note) any { return &n.State }},
		{name: "blocks", at: func(n *show.Note) any { return &n.Blocks }},
		{name: "helper", at: func(n *show.Note) any { return &n.Helper }, ref: true},
	},
}

var askTable = &mapping[show.Ask]{
	name: "ask", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Ask { return &h.Asks },
	fields: []field[show.Ask]{
		{name: "code", at: func(a *show.Ask) any { return &a.ID }},
		{name: "day", at: func(a *show.Ask) any { return &a.Day }},
		{name: "of_whom", at: func(a *show.Ask) any { return &a.OfWhom }},
		{name: "what", at: func(a *show.Ask) any { return &a.What }},
		{name: "promised", at: func(a *show.Ask) any { return &a.Promised }},
		{name: "seen_on", at: func(a *show.Ask) any { return &a.SeenOn }},
		{name: "result", at: func(a *show.Ask) any { return &a.Result }},
		{name: "saves", at: func(a *show.Ask) any { return &a.Saves }},
	},
}

var pinTable = &mapping[show.Pin]{
	name: "pin", life: ofShow, keys: 1, many: true,
	list: func(h *show.House) *[]show.Pin { return &h.Pins },
	fields: []field[show.Pin]{
		{name: "piece", at: func(p *show.Pin) any { return &p.Piece }},
		{name: "source", at: func(p *show.Pin) any { return &p.Source }},
		{name: "garment", at: func(p *show.Pin) any { return &p.Garment }},
		{name: "find", at: func(p *show.Pin) any { return &p.Find }},
		{name: "cloth", at: func(p *show.Pin) any { return &p.Cloth }},
		{name: "day", at: func(p *show.Pin) any { return &p.Day }},
		{name: "who", at: func(p *show.Pin) any { return &p.Who }},
	},
}

var doneTable = &mapping[show.Done]{
	name: "done", life: ofShow, keys: 2, many: true,
	list: func(h *show.House) *[]show.Done { return &h.Done },
	fields: []field[show.Done]{
		{name: "piece", at: func(d *show.Done) any { return &d.Piece }},
		{name: "what", at: func(d *show.Done) any { return &d.What }},
		{name: "detail", at: func(d *show.Done) any { return &d.Detail }},
		{name: "day", at: func(d *show.Done) any { return &d.Day }},
	},
}

var rehearsedTable = &mapping[show.Rehearsed]{
	name: "rehearsed", life: ofShow, keys: 3, many: true,
	list: func(h *show.House) *[]show.Rehearsed { return &h.Rehearsed },
	fields: []field[show.Rehearsed]{
		{name: "performer", at: func(r *show.Rehearsed) any { return &r.Performer }},
		{name: "from_scene", at: func(r *show.Rehearsed) any { return &r.From }},
		{name: "to_scene", at: func(r *show.Rehearsed) any { return &r.To }},
		{name: "took_s", at: func(r *show.Rehearsed) any { return &r.Seconds }},
		{name: "day", at: func(r *show.Rehearsed) any { return &r.Day }},
	},
}

var loggedTable = &mapping[show.Logged]{
	name: "logged", life: ofShow, keys: 1, many: true,
	list: func(h *show.House) *[]show.Logged { return &h.Logged },
	fields: []field[show.Logged]{
		{name: "what", at: func(l *show.Logged) any { return &l.What }},
		{name: "helper", at: func(l *show.Logged) any { return &l.Helper }, ref: true},
		{name: "piece", at: func(l *show.Logged) any { return &l.Piece }, ref: true},
		{name: "took", at: func(l *show.Logged) any { return &l.Minutes }},
		{name: "thought", at: func(l *show.Logged) any { return &l.Thought }},
		{name: "day", at: func(l *show.Logged) any { return &l.Day }},
	},
}

var decisionTable = &mapping[show.Decision]{
	name: "decision", life: ofShow, keys: 1, many: true,
	list: func(h *show.House) *[]show.Decision { return &h.Decisions },
	fields: []field[show.Decision]{
		{name: "caution", at: func(d *show.Decision) any { return &d.Caution }},
		{name: "who", at: func(d *show.Decision) any { return &d.Who }},
		{name: "what", at: func(d *show.Decision) any { return &d.What }},
		{name: "day", at: func(d *show.Decision) any { return &d.Day }},
	},
}

var handLaidTable = &mapping[show.HandLaid]{
	name: "hand_laid", life: ofShow, keys: 1, many: true,
	list: func(h *show.House) *[]show.HandLaid { return &h.HandLaid },
	fields: []field[show.HandLaid]{
		{name: "cloth", at: func(l *show.HandLaid) any { return &l.Cloth }},
		{name: "piece", at: func(l *show.HandLaid) any { return &l.Piece }},
		{name: "part", at: func(l *show.HandLaid) any { return &l.Part }},
		{name: "turn", at: func(l *show.HandLaid) any { return &l.Turn }},
		{name: "mirror", at: func(l *show.HandLaid) any { return &l.Mirror }},
		{name: "x", at: func(l *show.HandLaid) any { return &l.X }},
		{name: "y", at: func(l *show.HandLaid) any { return &l.Y }},
	},
}
