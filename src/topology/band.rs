//! Bands: cords of which no strand ever crosses some gap of the rim.
//!
//! What lies on the rim is then a row with two ends, not a ring. Unrolled, the
//! row lies flat and the carried strand passes before it.

use std::f64::consts::{PI, TAU};

use super::WorldLines;

/// A turn smaller than this is none, radians.
const ROUNDING: f64 = 1e-9;

/// Middle of the widest way along the rim, radians clockwise from the y axis,
/// that nobody is ever carried across; none if all gaps are crossed, or if the
/// strands go round, with the disc or because they close up behind those that are
/// carried. Also none where half of the others are passed:
/// such a hop is told clockwise whichever way it went.
pub(super) fn gap(lines: &WorldLines) -> Option<f64> {
    let strands = lines.strands();
    let is_half = |passed: i32| 2 * passed.unsigned_abs() as usize + 1 == strands;
    // Who is carried and who gives way move on as many ranks: what is left is the drift.
    let mean = |hop: usize| {
        let angles = (0..strands).map(|strand| lines.angle(hop, strand));
        angles.sum::<f64>() / strands as f64
    };
    let begin = mean(0);
    let drifts = (mean(lines.hops.len()) - begin).abs() > ROUNDING;
    if drifts || lines.turn.abs() > ROUNDING || lines.hops.iter().any(|hop| is_half(hop.passed)) {
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
    use crate::structure::{Braid, Move, MoveList, Place, Step, shelf};

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

    /// Each strand in turn passes the next one clockwise: the row goes round, though
    /// after four lifts it is where it was but for the names.
    #[test]
    fn strands_that_go_round_the_rim_are_no_band() {
        let from_to = [(26, 27), (27, 18), (2, 10), (9, 13), (18, 15), (14, 18)];
        let more = [(18, 21), (21, 3), (15, 21), (3, 2), (10, 12), (21, 15)];
        let last = [(12, 7), (7, 12), (15, 21), (13, 16), (12, 19), (21, 14)];
        let home = [(19, 26), (16, 9)];
        let all = [&from_to[..], &more, &last, &home].concat();
        let step = |(from, to)| Step {
            moves: vec![Move {
                from: Place::Rim(from),
                to: Place::Rim(to),
            }],
        };
        let list = MoveList {
            slots: 14,
            start: [14, 26, 2, 9].map(Place::Rim).to_vec(),
            steps: all.into_iter().map(step).collect(),
            ..MoveList::default()
        };
        let braid = Braid::new(&list).expect("a sound list");
        let lines = WorldLines::new(&braid, 1.0, 1.0).expect("crosses");
        assert!(gap(&lines).is_none());
        let paths = lines.paths(24);
        let steps = paths.iter().flat_map(|path| path.windows(2));
        let longest = steps.map(|w| (w[0][0] - w[1][0]).hypot(w[0][1] - w[1][1]));
        assert!(longest.fold(0.0, f64::max) < 0.2);
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
