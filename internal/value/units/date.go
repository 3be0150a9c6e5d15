package units

import (
	"fmt"
	"strconv"
	"strings"
)

// Date is a civil day, counted from 31 December 1899, so that the zero value
// means "not set". It has no hour and no time zone: planning needs neither.
type Date int32

// Day returns the date of a year, month and day of the Gregorian calendar,
// from 1 January 1900 to 31 December 2199; anything else gives an error that
// holds the value.
func Day(year, month, day int) (Date, error) {
	if year < 1900 || year > 2199 || month < 1 || month > 12 || day < 1 || day > monthDays(year, month) {
		return 0, fmt.Errorf("%04d-%02d-%02d is not a day", year, month, day)
	}
	return Date(civil(year, month, day) - civil(1899, 12, 31)), nil
}

// ParseDate reads 2027-03-14, 14.3.2027, 14/3/27, 14 March 2027, March 14th,
// 2027, with or without a weekday before it; of two bare numbers the day comes
// first. An empty string is the zero date.
func ParseDate(s string) (Date, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return 0, nil
	}
	bad := fmt.Errorf("%q is not a date; write it as 2027-03-14", s)
	parts := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("-./ ,", r) })
	if len(parts) == 4 && isWeekday(parts[0]) {
		parts = parts[1:]
	}
	if len(parts) != 3 {
		return 0, bad
	}
	if _, err := monthNamed(parts[0]); err == nil {
		parts[0], parts[1] = parts[1], parts[0]
	}
	if parts[0] = ordinal(parts[0]); len(parts[0]) != 4 {
		parts[0], parts[2] = parts[2], parts[0]
	}
	if len(parts[0]) == 2 {
		parts[0] = "20" + parts[0]
	}
	y, err1 := strconv.Atoi(parts[0])
	m, err2 := strconv.Atoi(parts[1])
	if err2 != nil {
		m, err2 = monthNamed(parts[1])
	}
	d, err3 := strconv.Atoi(parts[2])
	if err1 != nil || err2 != nil || err3 != nil {
		return 0, bad
	}
	date, err := Day(y, m, d)
	if err != nil {
		return 0, bad
	}
	return date, nil
}

var months = [...]string{"January", "February", "March", "April", "May", "June", "July",
	"August", "September", "October", "November", "December"}

var weekdays = [...]string{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"}

func isWeekday(s string) bool {
	for _, w := range weekdays {
		if len(s) >= 2 && strings.HasPrefix(strings.ToLower(w), strings.ToLower(s)) {
			return true
		}
	}
	return false
}

// ordinal takes the ending off "14th".
func ordinal(s string) string {
	for _, end := range []string{"st", "nd", "rd", "th"} {
		if n, ok := strings.CutSuffix(strings.ToLower(s), end); ok {
			return n
		}
	}
	return s
}

func monthNamed(s string) (int, error) {
	for i, m := range months {
		if len(s) >= 3 && strings.HasPrefix(strings.ToLower(m), strings.ToLower(s)) {
			return i + 1, nil
		}
	}
	return 0, fmt.Errorf("%q is not a month", s)
}

// YMD returns year, month and day; all zero for the zero date.
func (d Date) YMD() (year, month, day int) {
	if d == 0 {
		return 0, 0, 0
	}
	// Inverse of civil, after Howard Hinnant, "chrono-compatible low-level
	// date algorithms", 2021: days are counted in 400 year eras from 1 March.
	z := int(d) + civil(1899, 12, 31) + 719468
	era := z / 146097
	doe := z - era*146097
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	mp := (5*doy + 2) / 153
	day = doy - (153*mp+2)/5 + 1
	month = mp + 3
	if month > 12 {
		month -= 12
	}
	year = yoe + era*400
	if month <= 2 {
		year++
	}
	return year, month, day
}

// String prints 2027-03-14, and nothing for the zero date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	y, m, day := d.YMD()
	return fmt.Sprintf("%04d-%02d-%02d", y, m, day)
}

// Words prints "14 March".
func (d Date) Words() string {
	if d == 0 {
		return "not set"
	}
	_, m, day := d.YMD()
	return fmt.Sprintf("%d %s", day, months[m-1])
}

// Long prints "Sunday 14 March 2027".
func (d Date) Long() string {
	if d == 0 {
		return "not set"
	}
	y, _, _ := d.YMD()
	return fmt.Sprintf("%s %s %d", weekdays[d.Weekday()], d.Words(), y)
}

// Short prints "Sun 14 Mar".
func (d Date) Short() string {
	if d == 0 {
		return "not set"
	}
	_, m, day := d.YMD()
	return fmt.Sprintf("%s %d %s", weekdays[d.Weekday()][:3], day, months[m-1][:3])
}

// Weekday is 0 for Sunday to 6 for Saturday.
func (d Date) Weekday() int { return int(d) % 7 } // 31 December 1899 was a Sunday

// MarshalText and UnmarshalText make a date readable in stored documents.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Date) UnmarshalText(b []byte) error {
	v, err := ParseDate(string(b))
	*d = v
	return err
}

func monthDays(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// civil is the number of days from 1 January 1970 (see YMD for the source).
func civil(y, m, d int) int {
	if m <= 2 {
		y--
	}
	era := y / 400
	yoe := y - era*400
	mp := m - 3
	if m <= 2 {
		mp = m + 9
	}
	doy := (153*mp+2)/5 + d - 1
	doe := yoe*365 + yoe/4 - yoe/100 + doy
	return era*146097 + doe - 719468
}

// Clock is a time of day in whole minutes after midnight.
type Clock int

// ParseClock reads 19:00, 19.00 or 7:30 pm.
func ParseClock(s string) (Clock, error) {
	t := strings.ToLower(strings.TrimSpace(s))
	pm := strings.HasSuffix(t, "pm")
	t = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(t, "am"), "pm"))
	h, m, _ := strings.Cut(strings.ReplaceAll(t, ".", ":"), ":")
	hh, err := strconv.Atoi(h)
	mm := 0
	if err == nil && m != "" {
		mm, err = strconv.Atoi(m)
	}
	if pm && hh < 12 {
		hh += 12
	}
	if err != nil || hh < 0 || hh > 23 || mm < 0 || mm > 59 {
		return 0, fmt.Errorf("%q is not a time of day; write it as 19:00", s)
	}
	return Clock(hh*60 + mm), nil
}

// String prints 19:00.
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }
