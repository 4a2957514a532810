//! Type: from a text to glyphs in their places.
//!
//! The program's own faces come first; what they lack is looked for in spare fonts
//! that are handed in. Words that run from right to left are set so, in lines that run
//! from left to right (Unicode Annex 9). Widths are those of the fonts, in ems.

mod font;

use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::Range;
use std::sync::{Arc, LazyLock};

use unicode_bidi::{BidiInfo, Level};
use unicode_segmentation::UnicodeSegmentation;

pub use font::SpareFont;
pub(crate) use font::{Font, Glyph};

/// A face with its weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Face {
    /// Lato Regular: notes.
    Regular,
    /// Lato Semibold: names.
    Semibold,
    /// Lato Bold: numbers in use.
    Bold,
    /// Old Standard: figures and titles.
    Figures,
    /// Old Standard Italic: heads and units.
    Italic,
}

impl Face {
    const ALL: [Self; 5] = [
        Self::Regular,
        Self::Semibold,
        Self::Bold,
        Self::Figures,
        Self::Italic,
    ];

    fn file(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../../resources/fonts/Lato-Regular.ttf"),
            Self::Semibold => include_bytes!("../../../resources/fonts/Lato-Semibold.ttf"),
            Self::Bold => include_bytes!("../../../resources/fonts/Lato-Bold.ttf"),
            Self::Figures => include_bytes!("../../../resources/fonts/OldStandard-Regular.ttf"),
            Self::Italic => include_bytes!("../../../resources/fonts/OldStandard-Italic.ttf"),
        }
    }

    /// The font of this face.
    fn font(self) -> &'static Arc<Font> {
        static FONTS: LazyLock<Vec<Arc<Font>>> = LazyLock::new(|| {
            let font = |face: Face| Font::new(Arc::new(face.file()), 0);
            let fonts = Face::ALL.map(|face| Arc::new(font(face).expect("a test reads them all")));
            fonts.into()
        });
        let place = Self::ALL.iter().position(|face| *face == self);
        &FONTS[place.unwrap_or(0)]
    }
}

/// Neighbouring glyphs of one font, from left to right.
#[derive(Debug, Clone)]
pub(crate) struct Run {
    pub(crate) font: Arc<Font>,
    pub(crate) text: String,
    pub(crate) glyphs: Vec<Glyph>,
    /// Ems.
    pub(crate) width: f64,
}

/// A text set on one line.
#[derive(Debug, Clone)]
pub(crate) struct Line {
    pub(crate) text: String,
    pub(crate) runs: Vec<Run>,
    /// Ems.
    pub(crate) width: f64,
}

/// All fonts at hand, and what has been set already.
#[derive(Debug)]
pub(crate) struct Lettering {
    spare: Vec<Arc<Font>>,
    known: RefCell<HashMap<(Face, String), Arc<Line>>>,
    /// Letters that no font here has, as they stood together.
    lacked: RefCell<Vec<String>>,
}

impl Lettering {
    /// Our faces and these behind them, in their order; what is no font is left out.
    pub(crate) fn new(spare: &[SpareFont]) -> Self {
        let spare = spare.iter().filter_map(SpareFont::read);
        Self {
            spare: spare.map(Arc::new).collect(),
            known: RefCell::default(),
            lacked: RefCell::default(),
        }
    }

    /// A text as it can be set: what ends a line is a space, and letters that no font
    /// here has are a number in brackets that [`Self::lacked`] explains.
    pub(crate) fn printable(&self, text: &str) -> String {
        let mut printable = String::new();
        let mut lacking = String::new();
        for cluster in text.graphemes(true) {
            if self.font_for(Face::Regular, cluster).is_none() {
                lacking.push_str(cluster);
                continue;
            }
            self.bracket(&mut printable, &mut lacking);
            match cluster.chars().all(char::is_control) {
                true => printable.push(' '),
                false => printable.push_str(cluster),
            }
        }
        self.bracket(&mut printable, &mut lacking);
        printable
    }

    /// Adds the number of what is lacking, if anything is.
    fn bracket(&self, to: &mut String, lacking: &mut String) {
        if lacking.is_empty() {
            return;
        }
        let mut lacked = self.lacked.borrow_mut();
        let known = lacked.iter().position(|other| other == lacking);
        let place = known.unwrap_or(lacked.len());
        if known.is_none() {
            lacked.push(lacking.clone());
        }
        lacking.clear();
        to.push_str(&format!("[{}]", place + 1));
    }

    /// The letters that could not be set so far, as they stood together; the first
    /// stand as `[1]`.
    pub(crate) fn lacked(&self) -> Vec<String> {
        self.lacked.borrow().clone()
    }

    /// A text on one line, however wide, as it is [`Self::printable`].
    pub(crate) fn line(&self, face: Face, text: &str) -> Arc<Line> {
        let key = (face, text.to_owned());
        if let Some(line) = self.known.borrow().get(&key) {
            return Arc::clone(line);
        }
        let line = Arc::new(self.set(face, text));
        self.known.borrow_mut().insert(key, Arc::clone(&line));
        line
    }

    /// Its width, ems.
    pub(crate) fn width(&self, face: Face, text: &str) -> f64 {
        self.line(face, text).width
    }

    fn set(&self, face: Face, text: &str) -> Line {
        let text = self.printable(text);
        let mut runs = Vec::new();
        let bidi = BidiInfo::new(&text, Some(Level::ltr()));
        for paragraph in &bidi.paragraphs {
            let (levels, ranges) = bidi.visual_runs(paragraph, paragraph.range.clone());
            for range in ranges {
                let backwards = levels[range.start].is_rtl();
                let mut parts = self.parts(face, &text, range);
                if backwards {
                    parts.reverse();
                }
                let set = parts
                    .into_iter()
                    .map(|(font, part)| run(&font, &text[part], backwards));
                runs.extend(set);
            }
        }
        let width = runs.iter().map(|run: &Run| run.width).sum();
        Line { text, runs, width }
    }

    /// A stretch of text in pieces of one font each.
    fn parts(&self, face: Face, text: &str, range: Range<usize>) -> Vec<(Arc<Font>, Range<usize>)> {
        let mut parts: Vec<(Arc<Font>, Range<usize>)> = Vec::new();
        for (at, cluster) in text[range.clone()].grapheme_indices(true) {
            let begins = range.start + at;
            let ends = begins + cluster.len();
            let is_space = cluster.chars().all(char::is_whitespace);
            if let Some((_, before)) = parts.last_mut().filter(|_| is_space) {
                before.end = ends;
                continue;
            }
            let font = self.font_for(face, cluster);
            let font = font.unwrap_or_else(|| Arc::clone(face.font()));
            match parts.last_mut() {
                Some((last, before)) if Arc::ptr_eq(last, &font) => before.end = ends,
                _ => parts.push((font, begins..ends)),
            }
        }
        parts
    }

    /// The first font that has all of a letter with its marks.
    fn font_for(&self, face: Face, cluster: &str) -> Option<Arc<Font>> {
        let ours = [face.font(), Face::Regular.font()];
        let mut fonts = ours.into_iter().chain(&self.spare);
        let has = |font: &&Arc<Font>| cluster.chars().all(|c| font.has(c));
        fonts.find(has).cloned()
    }
}

fn run(font: &Arc<Font>, text: &str, backwards: bool) -> Run {
    let glyphs = font.shape(text, backwards);
    Run {
        font: Arc::clone(font),
        text: text.to_owned(),
        width: glyphs.iter().map(|glyph| glyph.advance).sum(),
        glyphs,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_face_is_a_font_with_all_that_the_sheet_writes() {
        for face in Face::ALL {
            for sign in "0123456789 ×→−±½¼¾⅛⅜⅝⅞⁄%.,:+°ABCabcäéßłΩπЖд".chars()
            {
                assert!(face.font().has(sign), "{face:?} lacks {sign:?}");
            }
        }
    }

    #[test]
    fn figures_keep_their_width_from_digit_to_digit() {
        let lettering = Lettering::new(&[]);
        for face in Face::ALL {
            let wide = |text: &str| lettering.width(face, text);
            assert!((wide("111") - wide("089")).abs() < 1e-9, "{face:?}");
        }
    }

    #[test]
    fn what_ends_a_line_is_a_space_and_nothing_is_lost() {
        let lettering = Lettering::new(&[]);
        let line = lettering.line(Face::Regular, "a\nb\tc");
        assert_eq!(line.text, "a b c");
        let letters: usize = line.runs.iter().map(|run| run.glyphs.len()).sum();
        assert_eq!(letters, 5);
    }

    #[test]
    fn letters_that_no_font_has_are_told() {
        let lettering = Lettering::new(&[]);
        let ours = "Ünïcødé, Ελληνικά, Кириллица";
        assert_eq!(lettering.printable(ours), ours);
        assert!(lettering.lacked().is_empty());
        assert_eq!(lettering.printable("ok 絹紐 2, 紐"), "ok [1] 2, [2]");
        assert_eq!(lettering.line(Face::Bold, "絹紐").text, "[1]");
        assert_eq!(lettering.lacked(), ["絹紐", "紐"]);
    }

    #[test]
    fn a_letter_that_its_face_lacks_comes_from_the_next() {
        let lettering = Lettering::new(&[]);
        let (lato, figures) = (Face::Regular.font(), Face::Figures.font());
        let letter = ('\u{a1}'..'\u{2fff}').find(|c| lato.has(*c) && !figures.has(*c));
        let text = format!("a{}b", letter.expect("one"));
        let line = lettering.line(Face::Figures, &text);
        assert_eq!((line.runs.len(), &line.text), (3, &text));
        assert!(Arc::ptr_eq(&line.runs[1].font, lato));
    }
}
