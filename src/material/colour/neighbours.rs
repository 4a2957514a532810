//! The colours that lie side by side on a cord, of strands that do.

use super::{Beside, Colour};
use crate::material::{Fibre, Strand};

/// A colour of a strand: its share of the strand's width, 0 to 1.
fn shares(strand: &Strand) -> Vec<(Colour, f64)> {
    let whole = strand.ends().max(1) as f64;
    let share = |ends: u16| f64::from(ends) / whole;
    let parts = strand.parts.iter();
    parts.map(|part| (part.colour, share(part.ends))).collect()
}

/// Colours side by side where `seams` tells which strands lie side by side,
/// along how many mm. A strand of several colours shows each by its share of
/// the ends, in length and in width. Strands that are not there, or whose
/// thickness cannot be said, are left out.
pub fn colours_beside(
    strands: &[Strand],
    fibres: &[Fibre],
    seams: &[([usize; 2], f64)],
) -> Vec<Beside> {
    let width = |strand: &Strand| strand.body(fibres).ok().map(|body| body.diameter);
    let mut besides = Vec::new();
    for &([one, two], length) in seams {
        let Some((one, two)) = strands.get(one).zip(strands.get(two)) else {
            continue;
        };
        let Some((wide, other_wide)) = width(one).zip(width(two)) else {
            continue;
        };
        for (colour, share) in shares(one) {
            for (other, other_share) in shares(two) {
                besides.push(Beside {
                    colours: [colour, other],
                    length: length * share * other_share,
                    width: (wide * share).min(other_wide * other_share),
                });
            }
        }
    }
    besides
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Part, on_shelf};

    const NAME: &str = "satin cord 2 mm, polyester";
    const SEA: Colour = Colour([20, 80, 120]);
    const SAND: Colour = Colour([200, 180, 140]);

    #[test]
    fn a_strand_of_two_colours_shows_each_by_its_share() {
        let satin = on_shelf(NAME).unwrap().clone();
        let plain = Strand::single(NAME, SEA);
        let part = |colour, ends| Part {
            fibre: NAME.to_owned(),
            ends,
            colour,
        };
        let mixed = Strand {
            parts: vec![part(SEA, 1), part(SAND, 3)],
        };
        let fibres = [satin];
        let wide = mixed.body(&fibres).unwrap().diameter;
        let plain_wide = plain.body(&fibres).unwrap().diameter;
        let strands = [plain, mixed];
        let besides = colours_beside(&strands, &fibres, &[([0, 1], 8.0), ([0, 7], 5.0)]);
        assert_eq!(besides.len(), 2, "strand 7 is not there: {besides:?}");
        assert_eq!(besides[1].colours, [SEA, SAND]);
        assert!((besides[1].length - 6.0).abs() < 1e-9);
        assert!((besides[1].width - plain_wide.min(0.75 * wide)).abs() < 1e-9);
    }
}
