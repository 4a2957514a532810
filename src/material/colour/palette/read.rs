//! Reading a palette; what cannot be read is told line by line and the rest kept.

use super::{Colour, MOST, MOST_COLUMNS, Palette, Shade};

/// First line of every palette.
pub(super) const HEAD: &str = "GIMP Palette";

/// Why a text is no palette at all.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("this is not a palette: its first line must be \"GIMP Palette\", but it is {first:?}")]
pub struct NotAPalette {
    /// How the first line begins.
    pub first: String,
}

/// A line that was left out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {why}")]
pub struct BadLine {
    /// Which line, counted from 1.
    pub line: usize,
    /// What is wrong with it.
    pub why: Wrong,
    /// The line as it stands.
    pub text: String,
}

/// What is wrong with a line.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Wrong {
    /// Fewer than three numbers.
    #[error("a colour needs red, green and blue; {0} is missing")]
    Missing(&'static str),
    /// Something else than a number.
    #[error("{part} must be a number from 0 to 255, not {found:?}")]
    NotANumber {
        /// Red, green or blue.
        part: &'static str,
        /// What stands there.
        found: String,
    },
    /// Columns that cannot be.
    #[error("columns must be a number from 0 to 256, not {0:?}")]
    Columns(String),
    /// One too many.
    #[error("more than {MOST} colours; those from here on are left out")]
    TooMany,
}

/// A palette as far as it could be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Read {
    /// What was read.
    pub palette: Palette,
    /// The lines that were left out, in order.
    pub bad: Vec<BadLine>,
}

impl Palette {
    /// Reads `.gpl` text. Lines that are no colour are told and left out; line
    /// ends of any system and a byte order mark are taken.
    ///
    /// # Errors
    ///
    /// If the text does not begin as a palette does.
    pub fn read(text: &str) -> Result<Read, NotAPalette> {
        let text = text.trim_start_matches('\u{feff}');
        let mut lines = text.lines().enumerate();
        let first = lines.next().map_or("", |(_, line)| line.trim_end());
        if first != HEAD {
            let first = first.chars().take(40).collect();
            return Err(NotAPalette { first });
        }
        let mut read = Read {
            palette: Self::default(),
            bad: Vec::new(),
        };
        for (place, line) in lines {
            let Err(why) = read.palette.take(line) else {
                continue;
            };
            let is_last = why == Wrong::TooMany;
            read.bad.push(BadLine {
                line: place + 1,
                why,
                text: line.to_owned(),
            });
            if is_last {
                break;
            }
        }
        Ok(read)
    }

    fn take(&mut self, line: &str) -> Result<(), Wrong> {
        let line = line.trim();
        if let Some(remark) = line.strip_prefix('#') {
            self.remarks.push(remark.trim().to_owned());
        } else if let (Some(name), true) = (line.strip_prefix("Name:"), self.shades.is_empty()) {
            name.trim().clone_into(&mut self.name);
        } else if let (Some(count), true) = (line.strip_prefix("Columns:"), self.shades.is_empty())
        {
            self.columns = columns(count.trim())?;
        } else if !line.is_empty() {
            let shade = shade(line)?;
            if self.shades.len() == MOST {
                return Err(Wrong::TooMany);
            }
            self.shades.push(shade);
        }
        Ok(())
    }
}

fn columns(text: &str) -> Result<u16, Wrong> {
    let count = text.parse().ok().filter(|&count| count <= MOST_COLUMNS);
    count.ok_or_else(|| Wrong::Columns(text.to_owned()))
}

/// A colour and the name that follows it.
fn shade(line: &str) -> Result<Shade, Wrong> {
    let mut rest = line;
    let mut rgb = [0; 3];
    for (share, part) in rgb.iter_mut().zip(["red", "green", "blue"]) {
        let end = rest.find(char::is_whitespace).unwrap_or(rest.len());
        let (word, after) = rest.split_at(end);
        rest = after.trim_start();
        *share = byte(word, part)?;
    }
    Ok(Shade {
        colour: Colour(rgb),
        name: rest.to_owned(),
    })
}

fn byte(word: &str, part: &'static str) -> Result<u8, Wrong> {
    if word.is_empty() {
        return Err(Wrong::Missing(part));
    }
    let number = word.parse().ok().filter(|_| !word.starts_with('+'));
    number.ok_or_else(|| Wrong::NotANumber {
        part,
        found: word.chars().take(20).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const HARBOUR: &str = include_str!("../../../../tests/files/harbour.gpl");

    fn shade(rgb: [u8; 3], name: &str) -> Shade {
        Shade {
            colour: Colour(rgb),
            name: name.to_owned(),
        }
    }

    #[test]
    fn a_palette_from_a_file_is_read_whole() {
        let read = Palette::read(HARBOUR).unwrap();
        assert_eq!(read.bad, []);
        let palette = read.palette;
        assert_eq!(palette.name, "Harbour in November");
        assert_eq!(palette.columns, 4);
        assert_eq!(palette.remarks.len(), 3);
        assert_eq!(palette.shades.len(), 12);
        assert_eq!(palette.shades[0], shade([244, 241, 234], "foam"));
        assert_eq!(palette.shades[11], shade([0, 0, 0], ""));
    }

    #[test]
    fn windows_line_ends_a_mark_and_an_old_head_are_taken() {
        let read = Palette::read("\u{feff}GIMP Palette\r\n#old\r\n1 2 3 sea  glass\r\n").unwrap();
        assert_eq!(read.bad, []);
        assert_eq!(read.palette.name, "");
        assert_eq!(read.palette.remarks, ["old"]);
        assert_eq!(read.palette.shades, [shade([1, 2, 3], "sea  glass")]);
    }

    #[test]
    fn bad_lines_are_told_in_a_sentence_and_the_rest_kept() {
        let text = "GIMP Palette\nName: x\nColumns: many\n1 2\n256 0 0 too red\n\n\
                    9 9 9\nviolet\n-1 0 0\n7 7 7 grey";
        let read = Palette::read(text).unwrap();
        let told: Vec<String> = read.bad.iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            [
                "line 3: columns must be a number from 0 to 256, not \"many\"",
                "line 4: a colour needs red, green and blue; blue is missing",
                "line 5: red must be a number from 0 to 255, not \"256\"",
                "line 8: red must be a number from 0 to 255, not \"violet\"",
                "line 9: red must be a number from 0 to 255, not \"-1\"",
            ]
        );
        assert_eq!(read.bad[2].text, "256 0 0 too red");
        let kept = [shade([9; 3], ""), shade([7; 3], "grey")];
        assert_eq!(read.palette.shades, kept);
    }

    #[test]
    fn what_is_no_palette_says_how_it_begins() {
        for text in ["", "JASC-PAL\n0100", "gimp palette\n1 2 3"] {
            let fault = Palette::read(text).unwrap_err();
            assert_eq!(fault.first, text.lines().next().unwrap_or(""));
        }
    }

    #[test]
    fn a_palette_without_end_is_cut_off_and_says_so() {
        let mut text = HEAD.to_owned();
        text.push_str(&"\n1 2 3".repeat(MOST + 500));
        let read = Palette::read(&text).unwrap();
        assert_eq!(read.palette.shades.len(), MOST);
        assert_eq!(read.bad.len(), 1);
        assert_eq!(read.bad[0].line, MOST + 2);
    }
}
