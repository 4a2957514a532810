//! Bands: cords of which no strand ever crosses some gap of the rim.
//!
//! What lies on the rim is then a row with two ends, not a ring. Unrolled, the
//! row lies flat and the carried strand passes before it.

use std::f64::consts::{PI, TAU};

use super::WorldLines;

/// A turn of a round smaller than this is none, radians.
const ROUNDING: f64 = 1e-9;

/// Middle of the widest way along the rim, radians clockwise from the y axis,
/// that nobody is ever carried across; none if all gaps are crossed, or if the
/// gap goes round with the disc. Also none where half of the others are passed:
/// such a hop is told clockwise whichever way it went.
pub(super) fn gap(lines: &WorldLines) -> Option<f64> {
    let strands = lines.strands();
    let is_half = |passed: i32| 2 * passed.unsigned_abs() as usize + 1 == strands;
    if lines.turn.abs() > ROUNDING || lines.hops.iter().any(|hop| is_half(hop.passed)) {
        return None;
    }
    let rank = TAU / strands as f64;
    let first = lines.angle(0, 0);
    let mut is_crossed = vec![false; strands];
    for (number, hop) in lines.hops.iter().enumerate() {
        let from = ((lines.angle(number, hop.strand) - first) / rank).round() as i32;
        let low = from + hop.passed.min(0);
        for gap in low..low + hop.passed.abs() {
            is_crossed[gap.rem_euclid(strands as i32) as usize] = true;
        }
    }
    let free = is_crossed.iter().position(|&crossed| !crossed)?;
    Some(first + rank * (free as f64 + 0.5))
}

/// Paths round the z axis, cut open at an angle and laid flat: `x` along the
/// rim, clockwise as before, `y` outwards from it, `deep` times as deep.
pub(super) fn unrolled(paths: &mut [Vec<[f64; 3]>], gap: f64, rim: f64, deep: f64) {
    for [x, y, _] in paths.iter_mut().flatten() {
        let clockwise = f64::atan2(*x, *y);
        let from_opposite = (clockwise - gap).rem_euclid(TAU) - PI;
        (*x, *y) = (rim * from_opposite, deep * (x.hypot(*y) - rim));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Braid, shelf};

    #[test]
    fn flat_cords_are_bands_and_no_round_cord_is() {
        for entry in shelf() {
            let braid = Braid::new(&entry.moves).expect("on the shelf");
            let lines = WorldLines::of_round(&braid, 1.0, 1.0).expect("crosses");
            let is_band = entry.name.contains("Flat, one over one");
            let may_be = entry.name.contains("Flat") || entry.name == "Plait";
            let name = format!("{} of {}", entry.name, entry.strands());
            assert!(gap(&lines).is_some() || !is_band, "{name}");
            assert!(gap(&lines).is_none() || may_be, "{name}");
        }
    }

    #[test]
    fn an_unrolled_ring_keeps_its_hand_and_its_lengths() {
        let at = |angle: f64, r: f64| [r * angle.sin(), r * angle.cos(), 0.0];
        let mut paths = vec![vec![at(0.1, 2.0), at(0.2, 2.0), at(0.1, 1.5)]];
        unrolled(&mut paths, PI, 2.0, 1.0);
        let near =
            |p: [f64; 3], x: f64, y: f64| (p[0] - x).abs() < 1e-12 && (p[1] - y).abs() < 1e-12;
        assert!(near(paths[0][0], 0.2, 0.0), "{paths:?}");
        assert!(near(paths[0][1], 0.4, 0.0), "{paths:?}");
        assert!(near(paths[0][2], 0.2, -0.5), "{paths:?}");
    }
}
