//! Breaking a text into lines: nothing is ever wider than its column.
//!
//! Lines end where Unicode Annex 14 lets them; a word wider than its column is parted
//! between letters.

use std::sync::Arc;

use unicode_linebreak::linebreaks;
use unicode_segmentation::UnicodeSegmentation;

use super::lettering::{Face, Lettering, Line};

impl Lettering {
    /// The lines of a text in a column so many ems wide. Of nothing there is none.
    pub(crate) fn lines(&self, face: Face, text: &str, wide: f64) -> Vec<Arc<Line>> {
        let text = self.printable(text);
        let fits = |part: &str| self.width(face, part.trim_end()) <= wide;
        let mut lines = Vec::new();
        let mut rest = text.as_str();
        while !rest.trim().is_empty() {
            let end = first_line(rest, fits);
            lines.push(self.line(face, rest[..end].trim()));
            rest = rest[end..].trim_start();
        }
        lines
    }
}

/// How much of a text stands on its first line.
fn first_line(text: &str, fits: impl Fn(&str) -> bool) -> usize {
    let mut end = 0;
    for (at, _) in linebreaks(text) {
        if !fits(&text[..at]) {
            break;
        }
        end = at;
    }
    if end > 0 {
        return end;
    }
    // Not one word fits: as many letters as do, at least one.
    let ends = text.grapheme_indices(true).map(|(at, g)| at + g.len());
    let mut most = text.len();
    for (i, at) in ends.enumerate() {
        if i > 0 && !fits(&text[..at]) {
            break;
        }
        most = at;
    }
    most
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn texts(lines: &[Arc<Line>]) -> Vec<&str> {
        lines.iter().map(|line| line.text.as_str()).collect()
    }

    #[test]
    fn words_stay_whole_where_they_fit() {
        let lettering = Lettering::new(&[]);
        let lines = lettering.lines(Face::Regular, "satin cord of two millimetres", 8.0);
        assert_eq!(texts(&lines), ["satin cord of two", "millimetres"]);
        assert!(lettering.lines(Face::Regular, "  ", 8.0).is_empty());
    }

    #[test]
    fn a_word_wider_than_its_column_is_parted() {
        let lettering = Lettering::new(&[]);
        let lines = lettering.lines(Face::Regular, "Donaudampfschiff ab", 3.0);
        assert!(lines.len() > 2, "{lines:?}");
        let narrow = lettering.lines(Face::Regular, "ab", 0.01);
        assert_eq!(texts(&narrow), ["a", "b"]);
    }

    proptest! {
        #[test]
        fn nothing_is_lost_and_nothing_is_too_wide(text in "[a-zäłЖ-яα-ω,/ -]{0,60}", wide in 3.0..30.0) {
            let lettering = Lettering::new(&[]);
            let lines = lettering.lines(Face::Regular, &text, wide);
            for line in &lines {
                let alone = line.text.graphemes(true).count() == 1;
                prop_assert!(line.width <= wide || alone, "{:?}", line.text);
            }
            let letters = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            let all: String = texts(&lines).concat();
            prop_assert_eq!(letters(&all), letters(&text));
        }
    }
}
