//! A line of a place file.
//!
//! `Begun(…)` or `<ms since 1970> <entry>`, both RON without line ends, then a blank and
//! the CRC-32 of all before that blank in eight hexadecimal digits. Every line stands for
//! itself: one that is damaged takes no other with it.

use super::Begun;
use crate::bench::{Entry, Stamped};

/// What stands before what a cord was begun with.
const BEGUN: &str = "Begun";
/// Digits of the sum.
const SUM: usize = 8;

/// What a line says.
#[derive(Debug)]
pub(super) enum Said {
    /// What the cord was begun with, or follows.
    Begun(Box<Begun>),
    /// What happened.
    Stamped(Stamped),
    /// Something that this program does not know.
    Unknown,
}

/// The line of what a cord is begun with.
pub(super) fn of_begun(begun: &Begun) -> String {
    let ron = ron::to_string(begun).expect("structs, lists, numbers and text");
    summed(format!("{BEGUN}{ron}"))
}

/// The line of what happened.
pub(super) fn of_stamped(stamped: &Stamped) -> String {
    let ron = ron::to_string(&stamped.entry).expect("structs, lists, numbers and text");
    summed(format!("{} {ron}", stamped.at))
}

fn summed(body: String) -> String {
    let sum = crc32(body.as_bytes());
    body + &format!(" {sum:08x}\n")
}

/// What a line says, without its end; none if it is damaged.
pub(super) fn read(line: &[u8]) -> Option<Said> {
    let (body, sum) = line.split_at_checked(line.len().checked_sub(SUM + 1)?)?;
    let sum = str::from_utf8(sum.strip_prefix(b" ")?).ok()?;
    if u32::from_str_radix(sum, 16).ok()? != crc32(body) {
        return None;
    }
    let body = str::from_utf8(body).ok()?;
    Some(understood(body).unwrap_or(Said::Unknown))
}

fn understood(body: &str) -> Option<Said> {
    if let Some(begun) = body.strip_prefix(BEGUN) {
        return Some(Said::Begun(Box::new(ron::from_str(begun).ok()?)));
    }
    let (at, entry) = body.split_once(' ')?;
    let at = at.parse().ok()?;
    // Nearly all lines; ten times as fast as the reader of RON (tried).
    let done = entry.strip_prefix("Done(");
    let done = done.and_then(|rest| rest.strip_suffix(')')?.parse().ok());
    let entry = match done {
        Some(done) => Entry::Done(done),
        None => ron::from_str(entry).ok()?,
    };
    Some(Said::Stamped(Stamped { at, entry }))
}

/// The cyclic sum of IEEE 802.3, clause 3.2.9, bits reflected as usual.
fn crc32(bytes: &[u8]) -> u32 {
    const TABLE: [u32; 256] = crc_table();
    let next = |sum: u32, &byte: &u8| TABLE[((sum ^ u32::from(byte)) & 0xff) as usize] ^ (sum >> 8);
    !bytes.iter().fold(!0, next)
}

const fn crc_table() -> [u32; 256] {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < 256 {
        let mut sum = byte as u32;
        let mut bit = 0;
        while bit < 8 {
            sum = (sum >> 1) ^ if sum & 1 == 1 { 0xedb8_8320 } else { 0 };
            bit += 1;
        }
        table[byte] = sum;
        byte += 1;
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Note, Why};
    use crate::structure::{Move, Place, Step};

    /// The check value that catalogues of cyclic sums give for this one.
    #[test]
    fn the_sum_is_the_usual_one() {
        assert_eq!(crc32(b"123456789"), 0xcbf4_3926);
    }

    #[test]
    fn every_entry_is_one_line_and_read_as_it_was() {
        let one = Move {
            from: Place::slot(3),
            to: Place::slot(17),
        };
        let way = crate::bench::Way {
            why: Why::Mistake("two \"lines\"\nand a \u{1f9f6}".into()),
            from: vec![Place::slot(3), Place::Rim(9), Place::slot(30)],
            steps: vec![Step { moves: vec![one] }],
            lands: 7,
            roles: vec![2, 0, 1],
        };
        let entries = [
            Entry::Laid(3),
            Entry::Done(u64::MAX),
            Entry::Out(way),
            Entry::Along(1),
            Entry::Noted(Note::Words("so\r\nit was".into())),
            Entry::Noted(Note::Measured(0.1 + 0.2)),
            Entry::Taken {
                done: 4,
                roles: vec![1, 0, 2],
            },
            Entry::Finished,
        ];
        for entry in entries {
            let stamped = Stamped { at: 12, entry };
            let line = of_stamped(&stamped);
            let text = line.strip_suffix('\n').unwrap();
            assert!(!text.contains(char::is_control), "{text:?}");
            let Some(Said::Stamped(read)) = read(text.as_bytes()) else {
                panic!("{text}");
            };
            assert_eq!(read, stamped);
        }
    }

    #[test]
    fn a_line_with_any_byte_or_bit_wrong_is_damaged() {
        let line = of_stamped(&Stamped {
            at: 1_764_180_000_000,
            entry: Entry::Done(1234),
        });
        let line = line.trim_end().as_bytes();
        for at in 0..line.len() {
            for bit in 0..8 {
                let mut hit = line.to_vec();
                hit[at] ^= 1 << bit;
                // A digit of the sum in capitals is the same digit.
                if !hit.eq_ignore_ascii_case(line) {
                    assert!(read(&hit).is_none(), "{at} {bit}");
                }
            }
            assert!(read(&line[..at]).is_none());
        }
    }

    #[test]
    fn a_sound_line_of_a_later_program_is_not_damaged() {
        let line = summed("12 Photographed(from: Above)".into());
        assert!(matches!(
            read(line.trim_end().as_bytes()),
            Some(Said::Unknown)
        ));
    }
}
