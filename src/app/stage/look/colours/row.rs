//! Which colours stand in the row under a strand, and what they are called.

use crate::app::desk::Desk;
use crate::app::words;
use crate::document::Design;
use crate::material::Colour;
use crate::material::colour::Shade;

/// Colours offered beside those in use: dyes that go together, none of them
/// the accent of the window.
pub(crate) const DYES: [[u8; 3]; 8] = [
    [0x2b, 0x37, 0x5b],
    [0x6f, 0xa8, 0x9e],
    [0xee, 0xe6, 0xd2],
    [0xb9, 0x62, 0x36],
    [0x6b, 0x44, 0x66],
    [0xd8, 0xb0, 0x57],
    [0x4d, 0x5b, 0x3a],
    [0x2a, 0x26, 0x24],
];

/// Colours in a row at most, with our dyes and with a palette.
const MOST: (usize, usize) = (12, 24);

/// A colour that can be taken, with its name.
pub(crate) type Offered = (Colour, String);

/// The colours of a design, each once, in the order of its strands.
pub(crate) fn used(design: &Design) -> Vec<Colour> {
    let parts = design.strands.iter().flat_map(|strand| &strand.parts);
    let mut colours: Vec<Colour> = Vec::new();
    for colour in parts.map(|part| part.colour) {
        if !colours.contains(&colour) {
            colours.push(colour);
        }
    }
    colours
}

/// The palette whose colours are offered; none for our dyes.
fn palette<'a>(desk: &Desk<'a>) -> Option<&'a [Shade]> {
    let name = &desk.settings.offered;
    let palette = desk.palettes.iter().find(|palette| palette.name == *name);
    palette.map(|palette| &palette.shades[..])
}

/// The colours offered for a design: its own, then those of the row it does
/// not have.
pub(crate) fn offered(desk: &Desk<'_>) -> Vec<Offered> {
    let dyes = DYES.map(|rgb| Shade {
        colour: Colour(rgb),
        name: String::new(),
    });
    let (shades, most) = palette(desk).map_or((&dyes[..], MOST.0), |shades| (shades, MOST.1));
    row(&used(desk.design), shades, most)
}

fn row(used: &[Colour], shades: &[Shade], most: usize) -> Vec<Offered> {
    let mut colours: Vec<Colour> = used.to_vec();
    for shade in shades {
        if !colours.contains(&shade.colour) {
            colours.push(shade.colour);
        }
    }
    colours.truncate(most.max(used.len()));
    let plain = words::colours(&colours);
    let named = |colour: &Colour| {
        let known = |shade: &&Shade| shade.colour == *colour && !shade.name.is_empty();
        shades.iter().find(known).map(|shade| shade.name.clone())
    };
    let each = colours.iter().zip(plain);
    each.map(|(colour, plain)| (*colour, named(colour).unwrap_or(plain)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shade(rgb: [u8; 3], name: &str) -> Shade {
        Shade {
            colour: Colour(rgb),
            name: name.to_owned(),
        }
    }

    #[test]
    fn every_colour_is_offered_once_under_its_own_name() {
        let used = [Colour([0x1f, 0x7c, 0x7c]), Colour([9, 9, 9])];
        let shades = [
            shade([9, 9, 9], "pitch"),
            shade([200, 30, 30], ""),
            shade([9, 9, 9], "x"),
        ];
        let row = row(&used, &shades, 12);
        let names: Vec<&str> = row.iter().map(|(_, name)| name.as_str()).collect();
        assert_eq!(names, ["teal", "pitch", "red"]);
    }

    #[test]
    fn colours_in_use_are_never_left_out() {
        let used: Vec<Colour> = (0..20).map(|v| Colour([v, v, v])).collect();
        assert_eq!(row(&used, &[shade([1, 0, 0], "")], 12).len(), 20);
    }
}
