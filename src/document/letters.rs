//! Fonts of this computer for letters that the program's own lack.
//!
//! They are only read where a name needs them: there may be hundreds. Knows no type
//! and no page.

use std::collections::BTreeSet;

use fontdb::{Database, FaceInfo, Stretch, Style};
use skrifa::{FontRef, MetadataProvider};

/// The bytes of a font file, and which of its fonts.
pub type FontFile = (Vec<u8>, u32);

/// As few fonts of this computer as have these letters, plain ones first; nothing for
/// letters that none has.
pub fn spare_fonts(letters: &BTreeSet<char>) -> Vec<FontFile> {
    if letters.is_empty() {
        return Vec::new();
    }
    let mut fonts = Database::new();
    fonts.load_system_fonts();
    let mut faces: Vec<&FaceInfo> = fonts.faces().collect();
    faces.sort_by_key(|face| (plainness(face), face.post_script_name.clone()));
    let mut left = letters.clone();
    let mut found = Vec::new();
    for face in faces {
        if left.is_empty() {
            break;
        }
        let read = |data: &[u8], index| {
            let has = having(data, index, &left);
            (!has.is_empty()).then(|| (has, (data.to_vec(), index)))
        };
        if let Some(Some((has, font))) = fonts.with_face_data(face.id, read) {
            left.retain(|letter| !has.contains(letter));
            found.push(font);
        }
    }
    found
}

/// Which of the letters a font has.
fn having(data: &[u8], index: u32, letters: &BTreeSet<char>) -> BTreeSet<char> {
    let Ok(font) = FontRef::from_index(data, index) else {
        return BTreeSet::new();
    };
    let charmap = font.charmap();
    let has = |letter: &&char| charmap.map(**letter).is_some();
    letters.iter().filter(has).copied().collect()
}

/// The less the plainer: upright, of usual weight and width, of no fixed pitch.
fn plainness(face: &FaceInfo) -> (bool, bool, bool, u16) {
    (
        face.style != Style::Normal,
        face.monospaced,
        face.stretch != Stretch::Normal,
        face.weight.0.abs_diff(400),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    const LATO: &[u8] = include_bytes!("../../resources/fonts/Lato-Regular.ttf");

    #[test]
    fn a_font_tells_which_letters_it_has() {
        let letters: BTreeSet<char> = "aЖ紐".chars().collect();
        let has: String = having(LATO, 0, &letters).into_iter().collect();
        assert_eq!(has, "aЖ");
        assert!(having(b"no font", 0, &letters).is_empty());
    }

    #[test]
    fn nothing_is_read_where_no_letter_is_lacking() {
        assert!(spare_fonts(&BTreeSet::new()).is_empty());
    }

    #[test]
    fn a_letter_that_no_font_can_have_brings_none() {
        // U+FDD0 is no character and never will be one.
        assert!(spare_fonts(&['\u{fdd0}'].into()).is_empty());
    }
}
