//! The strands of a bound end, pressed together until nothing is left between
//! them.
//!
//! The binding squeezes round strands into a full round. Each strand keeps its
//! side of the cord and fills what lies nearer to it than to its neighbours,
//! thick ones more (a power diagram: Aurenhammer, 1987). A drawing only: the
//! width of the end is computed elsewhere.

use eframe::egui::{Color32, Vec2, vec2};

use super::EndDisc;

/// Corners of the round that is shared out.
const CORNERS: usize = 48;
/// Rounds of moving every strand to the middle of what it fills. Tried: after
/// eight nothing moves that an eye could see.
const ROUNDS: usize = 8;

/// What one strand fills.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cell {
    /// Its corners in turn, in the circle of radius 1 round nought; convex.
    pub(super) outline: Vec<Vec2>,
    /// The strand's colour.
    pub(super) colour: Color32,
}

/// A strand's middle and the square of its radius.
type Seat = (Vec2, f32);

/// What every strand fills of a round of radius 1; empty without strands.
pub(super) fn cells(section: &[EndDisc]) -> Vec<Cell> {
    let mut seats = seats(section);
    for _ in 0..ROUNDS {
        seats = (0..seats.len())
            .map(|strand| match middle(&outline(&seats, strand)) {
                Some(middle) => (middle, seats[strand].1),
                None => seats[strand],
            })
            .collect();
    }
    (0..seats.len())
        .map(|strand| Cell {
            outline: outline(&seats, strand),
            colour: section[strand].colour,
        })
        .filter(|cell| cell.outline.len() > 2)
        .collect()
}

/// Middles and radii as shares of the cord's own radius, the strands as thick
/// as they must be to fill the round.
fn seats(section: &[EndDisc]) -> Vec<Seat> {
    let far = |disc: &EndDisc| disc.centre_mm[0].hypot(disc.centre_mm[1]) + disc.radius_mm;
    let reach = section.iter().map(far).fold(1e-6, f64::max);
    let filled: f64 = section.iter().map(|disc| disc.radius_mm.powi(2)).sum();
    section
        .iter()
        .map(|disc| {
            let [x, y] = disc.centre_mm.map(|mm| (mm / reach) as f32);
            let square = disc.radius_mm.powi(2) / filled.max(1e-9);
            (vec2(x, y), square as f32)
        })
        .collect()
}

/// What is nearer to one strand than to every other.
fn outline(seats: &[Seat], strand: usize) -> Vec<Vec2> {
    let turn = std::f32::consts::TAU / CORNERS as f32;
    let mut outline: Vec<Vec2> = (0..CORNERS)
        .map(|corner| Vec2::angled(turn * corner as f32))
        .collect();
    let (here, square) = seats[strand];
    for (other, &(there, theirs)) in seats.iter().enumerate() {
        let across = there - here;
        if other == strand || across.length_sq() < 1e-9 {
            continue;
        }
        let limit = (there.length_sq() - here.length_sq() + square - theirs) / 2.0;
        outline = cut(&outline, across, limit);
    }
    outline
}

/// The part of a convex outline where `across · at` is at most `limit`.
fn cut(outline: &[Vec2], across: Vec2, limit: f32) -> Vec<Vec2> {
    let over = |at: Vec2| across.dot(at) - limit;
    let mut kept = Vec::with_capacity(outline.len() + 1);
    for (place, &from) in outline.iter().enumerate() {
        let to = outline[(place + 1) % outline.len()];
        let (a, b) = (over(from), over(to));
        if a <= 0.0 {
            kept.push(from);
        }
        if (a < 0.0 && b > 0.0) || (a > 0.0 && b < 0.0) {
            kept.push(from + (to - from) * (a / (a - b)));
        }
    }
    kept
}

/// The middle of an outline's area; none when it has no area.
fn middle(outline: &[Vec2]) -> Option<Vec2> {
    let (mut area, mut sum) = (0.0, Vec2::ZERO);
    for (place, &a) in outline.iter().enumerate() {
        let b = outline[(place + 1) % outline.len()];
        let twice = a.x * b.y - a.y * b.x;
        area += twice;
        sum += (a + b) * twice;
    }
    (area > 1e-6).then(|| sum / (3.0 * area))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(radii: &[f64]) -> Vec<EndDisc> {
        let turn = std::f64::consts::TAU / radii.len() as f64;
        radii
            .iter()
            .enumerate()
            .map(|(k, &radius_mm)| EndDisc {
                centre_mm: [2.0 * (turn * k as f64).cos(), 2.0 * (turn * k as f64).sin()],
                radius_mm,
                colour: Color32::from_gray(k as u8),
            })
            .collect()
    }

    fn area(cell: &Cell) -> f32 {
        let corners = cell.outline.iter().zip(cell.outline.iter().cycle().skip(1));
        corners.map(|(a, b)| (a.x * b.y - a.y * b.x) / 2.0).sum()
    }

    #[test]
    fn strands_fill_the_round_without_gap_or_overlap() {
        let cells = cells(&ring(&[1.0, 0.8, 1.0, 0.8, 1.0, 0.8]));
        assert_eq!(cells.len(), 6, "every strand is seen");
        let whole = 0.5 * CORNERS as f32 * (std::f32::consts::TAU / CORNERS as f32).sin();
        let filled: f32 = cells.iter().map(area).sum();
        assert!((filled - whole).abs() < 1e-3 * whole, "{filled} of {whole}");
        assert!(area(&cells[0]) > area(&cells[1]), "the thick one has more");
    }

    #[test]
    fn alike_strands_have_alike_shares() {
        let cells = cells(&ring(&[1.0; 8]));
        for cell in &cells {
            assert!((area(cell) - area(&cells[0])).abs() < 0.02);
        }
    }

    #[test]
    fn without_strands_nothing_is_filled() {
        assert!(cells(&[]).is_empty());
    }
}
