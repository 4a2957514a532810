//! Where in the text of a file something stands.
//!
//! Works on text that has been read already, so it only tells apart strings,
//! words and brackets. Lines and columns count from 1, columns in characters,
//! as an editor shows them.

use std::fmt;

use super::check::Key;

/// A place in a text, as a person sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// Line, from 1.
    pub line: usize,
    /// Character in the line, from 1.
    pub column: usize,
}

impl Spot {
    /// The spot of a byte offset; of the end when the offset lies beyond.
    pub(super) fn of(text: &str, offset: usize) -> Self {
        let before = text.get(..offset).unwrap_or(text);
        let start = before.rfind('\n').map_or(0, |newline| newline + 1);
        Self {
            line: before.matches('\n').count() + 1,
            column: before[start..].chars().count() + 1,
        }
    }

    /// The spot of the first word from here on; itself at the end of the text.
    pub(super) fn on_words_of(self, text: &str) -> Self {
        let line_start = match self.line {
            0 | 1 => Some(0),
            line => text.match_indices('\n').nth(line - 2).map(|(at, _)| at + 1),
        };
        let Some(rest) = line_start.and_then(|start| text.get(start..)) else {
            return self;
        };
        let mut from_here = rest.char_indices().skip(self.column.saturating_sub(1));
        match from_here.find(|(_, c)| !c.is_whitespace()) {
            Some((at, _)) => Self::of(text, text.len() - rest.len() + at),
            None => self,
        }
    }
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}", self.line, self.column)
    }
}

/// Strings, words and single marks with their offsets; no blanks, no comments.
fn tokens(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(next) = text[at..].chars().next() {
        let rest = &text[at..];
        let length = token_length(rest, next);
        if !next.is_whitespace() && !rest.starts_with("//") && !rest.starts_with("/*") {
            found.push((at, &rest[..length]));
        }
        at += length;
    }
    found
}

/// Length in bytes of the token, comment or blank at the front of `rest`.
fn token_length(rest: &str, first: char) -> usize {
    if rest.starts_with("//") {
        return rest.find('\n').unwrap_or(rest.len());
    }
    if rest.starts_with("/*") {
        return rest.find("*/").map_or(rest.len(), |end| end + 2);
    }
    if first == '"' {
        return string_length(rest);
    }
    if let Some(closing) = raw_string_end(rest) {
        let inside = closing.len() + 1;
        let end = rest[inside..].find(&closing);
        return end.map_or(rest.len(), |end| inside + end + closing.len());
    }
    let in_word = |c: char| c.is_alphanumeric() || "_+-.".contains(c);
    let word = rest.find(|c| !in_word(c)).unwrap_or(rest.len());
    word.max(first.len_utf8())
}

/// Length of the quoted string at the front, escapes heeded.
fn string_length(rest: &str) -> usize {
    let mut escaped = false;
    for (i, c) in rest.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return i + 1,
            _ => {}
        }
    }
    rest.len()
}

/// What closes the raw string at the front: `"` and as many `#` as opened it.
fn raw_string_end(rest: &str) -> Option<String> {
    let after = rest.strip_prefix('r')?;
    let hashes = after.find(|c| c != '#')?;
    after[hashes..]
        .starts_with('"')
        .then(|| format!("\"{}", "#".repeat(hashes)))
}

/// The first number that is infinite or none at all, with its spot.
pub(super) fn not_finite(text: &str) -> Option<(Spot, &str)> {
    let looks_like_number = |word: &str| {
        let bare = word.trim_start_matches(['+', '-']);
        bare == "inf" || bare == "NaN" || bare.starts_with(|c: char| c.is_ascii_digit() || c == '.')
    };
    let is_lost = |word: &str| {
        let number = word.replace('_', "").parse::<f64>();
        looks_like_number(word) && number.is_ok_and(|value| !value.is_finite())
    };
    let (offset, word) = tokens(text).into_iter().find(|(_, word)| is_lost(word))?;
    Some((Spot::of(text, offset), word))
}

/// The spot of the last word, if brackets are still open behind it or never were opened.
pub(super) fn open_end(text: &str) -> Option<Spot> {
    let tokens = tokens(text);
    let count = |marks: [&str; 3]| {
        tokens
            .iter()
            .filter(|(_, token)| marks.contains(token))
            .count()
    };
    let last = tokens
        .last()
        .map_or(text.trim_end().len(), |&(last, _)| last);
    let open = count(["(", "[", "{"]) > count([")", "]", "}"]);
    (open || tokens.is_empty()).then(|| Spot::of(text, last))
}

/// The spot that `way` leads to, or the last one on the way that is there.
pub(super) fn spot_of(text: &str, way: &[Key]) -> Spot {
    let tokens = tokens(text);
    let mut at = 0;
    for key in way {
        let Some(next) = step_into(&tokens, at, key) else {
            break;
        };
        at = next;
    }
    let offset = tokens.get(at).map_or(text.len(), |&(offset, _)| offset);
    Spot::of(text, offset)
}

/// From the first token of a value to the first token of what `key` names in it.
fn step_into(tokens: &[(usize, &str)], at: usize, key: &Key) -> Option<usize> {
    let word = |i: usize| tokens.get(i).map(|&(_, token)| token);
    // A value may begin with the name of its type.
    let mut at = match word(at)? {
        "(" | "[" => at + 1,
        _ if matches!(word(at + 1), Some("(")) => at + 2,
        _ => return None,
    };
    let mut index = 0;
    loop {
        match word(at)? {
            ")" | "]" => return None,
            _ => {}
        }
        match key {
            Key::Field(name) if word(at)? == *name && word(at + 1)? == ":" => return Some(at + 2),
            Key::Item { index: wanted, .. } if *wanted == index => return Some(at),
            _ => {}
        }
        at = after_comma(tokens, at)?;
        index += 1;
    }
}

/// The token after the comma that ends the entry at `at`.
fn after_comma(tokens: &[(usize, &str)], at: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (i, &(_, token)) in tokens.iter().enumerate().skip(at) {
        match token {
            "," if depth == 0 => return Some(i + 1),
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => depth = depth.checked_sub(1)?,
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str =
        "// first, (\n(\n    name: \"a, (b\",\n    list: [(x: 1, é: 2), T(x: 3, y: Some(4))],\n)\n";

    fn item(index: usize) -> Key {
        let called = String::new();
        Key::Item { index, called }
    }

    #[test]
    fn a_way_leads_past_strings_comments_and_type_names() {
        let way = [Key::Field("list"), item(1), Key::Field("y")];
        assert_eq!(
            spot_of(TEXT, &way),
            Spot {
                line: 4,
                column: 37
            }
        );
        assert_eq!(
            spot_of(TEXT, &way[..2]),
            Spot {
                line: 4,
                column: 26
            }
        );
    }

    #[test]
    fn a_way_that_leads_nowhere_stops_at_the_last_place_known() {
        let way = [Key::Field("list"), item(7)];
        assert_eq!(
            spot_of(TEXT, &way),
            Spot {
                line: 4,
                column: 11
            }
        );
        assert_eq!(spot_of("", &way), Spot { line: 1, column: 1 });
    }

    #[test]
    fn a_spot_on_blanks_moves_on_to_the_next_word() {
        let spot = |line, column| Spot { line, column };
        assert_eq!(spot(3, 1).on_words_of(TEXT), spot(3, 5));
        assert_eq!(spot(2, 2).on_words_of(TEXT), spot(3, 5));
        assert_eq!(spot(4, 5).on_words_of(TEXT), spot(4, 5));
        assert_eq!(spot(9, 9).on_words_of(TEXT), spot(9, 9));
    }

    #[test]
    fn infinite_numbers_are_found_but_not_inside_names() {
        let found = |text| not_finite(text).map(|(spot, word)| (spot.line, spot.column, word));
        assert_eq!(found("(a: \"inf NaN\", b: 1.0)"), None);
        assert_eq!(found("(a: 1,\n b: -inf)"), Some((2, 5, "-inf")));
        assert_eq!(found("(a: /* NaN */ [1, NaN])"), Some((1, 19, "NaN")));
        assert_eq!(found("(a: 1e999)"), Some((1, 5, "1e999")));
        assert_eq!(found("(a: r#\"NaN\"#, b: NaN)"), Some((1, 18, "NaN")));
    }
}
