// Letters that are not a plain one with a mark on it; the program's own search
// has the same.
const plain = { "ł": "l", "đ": "d", "ð": "d", "ø": "o", "ħ": "h", "ŧ": "t", "ı": "i", "ß": "ss", "æ": "ae", "œ": "oe", "þ": "th", "ŋ": "n", "ĸ": "k" };

// fold makes two ways of writing the same word the same.
export function fold(s) {
  return s.toLowerCase().normalize("NFKD").replace(/\p{Mn}/gu, "").replace(/[łđðøħŧıßæœþŋĸ]/g, (c) => plain[c]);
}
