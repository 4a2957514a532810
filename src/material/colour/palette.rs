//! Palettes: rows of colours with names, as GIMP's `.gpl` text.
//!
//! The text begins with the line `GIMP Palette`; then `Name:` and `Columns:`,
//! lines that begin with `#`, and a line for each colour: red, green and blue
//! from 0 to 255, then a name if it has one. Files are read and written
//! elsewhere.

use std::fmt;

use super::Colour;

mod read;

pub use read::{BadLine, NotAPalette, Read, Wrong};

/// Colours a palette may hold: more than any shade card, our choice.
const MOST: usize = 4096;

/// Columns a row may be broken into, GIMP's own limit (from memory).
const MOST_COLUMNS: u16 = 256;

/// A colour of a palette.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shade {
    /// The colour.
    pub colour: Colour,
    /// Its name there; empty if it has none.
    pub name: String,
}

/// Colours that are offered together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Palette {
    /// Its name; empty if it has none.
    pub name: String,
    /// Columns to show it in; 0 leaves it open.
    pub columns: u16,
    /// What is written in it beside the colours, a line each, without the `#`.
    pub remarks: Vec<String>,
    /// Its colours in order.
    pub shades: Vec<Shade>,
}

/// Words on one line, so that they cannot be taken for another.
fn on_one_line(words: &str) -> String {
    let plain = words.replace(|c: char| c.is_control(), " ");
    plain.trim().to_owned()
}

/// The palette as `.gpl` text.
impl fmt::Display for Palette {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", read::HEAD)?;
        writeln!(f, "Name: {}", on_one_line(&self.name))?;
        if self.columns > 0 {
            writeln!(f, "Columns: {}", self.columns)?;
        }
        for remark in &self.remarks {
            writeln!(f, "{}", format!("# {}", on_one_line(remark)).trim_end())?;
        }
        for shade in &self.shades {
            let [r, g, b] = shade.colour.0;
            let row = format!("{r:3} {g:3} {b:3}\t{}", on_one_line(&shade.name));
            writeln!(f, "{}", row.trim_end())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    prop_compose! {
        fn words()(text in "[a-zA-Zäß#:0-9][a-zA-Zäß#: 0-9]{0,11}") -> String {
            text.trim().to_owned()
        }
    }

    prop_compose! {
        fn palette()(
            name in "[^\\p{C}]{0,12}",
            columns in 0..=MOST_COLUMNS,
            remarks in prop::collection::vec(words(), 0..4),
            shades in prop::collection::vec((any::<[u8; 3]>(), prop::option::of(words())), 0..40),
        ) -> Palette {
            let shade = |(rgb, name): ([u8; 3], Option<String>)| Shade {
                colour: Colour(rgb),
                name: name.unwrap_or_default(),
            };
            Palette {
                name: name.trim().to_owned(),
                columns,
                remarks,
                shades: shades.into_iter().map(shade).collect(),
            }
        }
    }

    proptest! {
        #[test]
        fn what_is_written_is_read_back(palette in palette()) {
            let read = Palette::read(&palette.to_string()).unwrap();
            prop_assert_eq!(read.palette, palette);
            prop_assert_eq!(read.bad, []);
        }
    }

    #[test]
    fn a_name_with_a_line_break_does_not_become_a_colour() {
        let palette = Palette {
            name: "two\n255 0 0".to_owned(),
            ..Palette::default()
        };
        let read = Palette::read(&palette.to_string()).unwrap();
        assert_eq!(read.palette.shades, []);
        assert_eq!(read.palette.name, "two 255 0 0");
    }
}
