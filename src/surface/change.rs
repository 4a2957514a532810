//! By which changes of parts a cord falls onto itself.
//!
//! Turned, shifted, on its head or in the mirror, the surface may show floats where it
//! showed floats before; then every strand has taken the part of one. This is
//! measured on the solved surface, not asked of the moves: a motion is proposed by every float that
//! may take the part of the first, moved to where its neighbours fit best, and kept if firm
//! places, those clear of an edge, show one strand each for each strand.

use std::collections::BTreeMap;

use super::floats::{Float, Surface};

/// What kind of motion a change is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Motion {
    /// Turned round its axis and shifted lengthwise: a place goes to
    /// `[share + turned, height + raised_mm]`.
    Turned,
    /// Turned end for end: to `[turned - share, raised_mm - height]`.
    UpsideDown,
    /// Seen in a mirror along the axis: to `[turned - share, raised_mm + height]`.
    Mirrored,
    /// Seen in a mirror across the axis: to `[turned + share, raised_mm - height]`.
    MirroredUpsideDown,
}

impl Motion {
    /// All kinds.
    pub const ALL: [Self; 4] = [
        Self::Turned,
        Self::UpsideDown,
        Self::Mirrored,
        Self::MirroredUpsideDown,
    ];

    /// Signs of the share of a round and of the height.
    fn signs(self) -> [f64; 2] {
        match self {
            Self::Turned => [1.0, 1.0],
            Self::UpsideDown => [-1.0, -1.0],
            Self::Mirrored => [-1.0, 1.0],
            Self::MirroredUpsideDown => [1.0, -1.0],
        }
    }
}

/// A motion by which the cord falls onto itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// For each strand, the one in whose place it comes to lie.
    pub parts: Vec<usize>,
    /// Share of a round; see [`Motion`].
    pub turned: f64,
    /// Mm; see [`Motion`].
    pub raised_mm: f64,
    /// What kind of motion.
    pub kind: Motion,
    /// Share of the firm places at which it holds.
    pub agrees: f64,
}

impl Change {
    /// Where a place goes.
    pub fn moves(&self, at: [f64; 2]) -> [f64; 2] {
        let [round, up] = self.kind.signs();
        [self.turned + round * at[0], self.raised_mm + up * at[1]]
    }
}

/// Firm places looked at for each strand.
const PLACES: usize = 60;
/// Places nearer to an edge than this, strand diameters, are not firm. Tried: solved shapes
/// are symmetric to a few hundredths.
const FIRM: f64 = 0.12;
/// Share of the firm places that must agree. Tried; what is no symmetry comes to less than 0.9.
const AGREES: f64 = 0.97;
/// Share that is worth moving closer.
const HOPEFUL: f64 = 0.6;
/// Floats whose areas differ by more than this factor do not take each other's part.
const ALIKE: f64 = 1.3;

/// All changes of a surface, one for each kind and change of parts, no motion first.
///
/// Those that turn and shift make a group, and so do all of them; a strand that is nowhere
/// seen keeps its part.
pub fn symmetries(surface: &Surface) -> Vec<Change> {
    let places = firm_places(surface);
    let mut found: BTreeMap<(Motion, Vec<usize>), Change> = BTreeMap::new();
    let Some(first) = rarest(surface) else {
        return Vec::new();
    };
    for kind in Motion::ALL {
        for float in surface.floats.iter().filter(|float| alike(first, float)) {
            let [round, up] = kind.signs();
            let shift = [
                float.middle[0] - round * first.middle[0],
                float.middle[1] - up * first.middle[1],
            ];
            if let Some(change) = fits(surface, &places, kind, shift) {
                let kept = found.entry((kind, change.parts.clone()));
                kept.and_modify(|kept| {
                    if far(&change) < far(kept) {
                        *kept = change.clone();
                    }
                })
                .or_insert(change);
            }
        }
    }
    found.into_values().collect()
}

fn far(change: &Change) -> f64 {
    change.raised_mm.abs() + change.turned.abs()
}

fn alike(one: &Float, other: &Float) -> bool {
    let ratio = one.area_mm2 / other.area_mm2;
    ratio < ALIKE && ratio > 1.0 / ALIKE && one.endless == other.endless
}

/// The float, not too small, that fewest others are like.
fn rarest(surface: &Surface) -> Option<&Float> {
    let all: f64 = surface.floats.iter().map(|float| float.area_mm2).sum();
    let mean = all / surface.floats.len() as f64;
    let count = |float: &&Float| {
        surface
            .floats
            .iter()
            .filter(|other| alike(float, other))
            .count()
    };
    let large = surface
        .floats
        .iter()
        .filter(|float| float.area_mm2 > 0.5 * mean);
    large.min_by_key(count)
}

/// Places that show what their surroundings show, with the strand.
fn firm_places(surface: &Surface) -> Vec<([f64; 2], usize)> {
    let near = FIRM * surface.field.strands.diameter;
    let share = near / surface.girth_mm;
    let count = (PLACES * surface.strands).max(400);
    // Evenly, by the plastic number's sequence.
    let place = |k: usize| {
        let even = |by: f64| (k as f64 * by + 0.5).fract();
        [
            even(0.754_877_666_246_692_7),
            surface.repeat_mm * even(0.569_840_290_998_053_3),
        ]
    };
    let firm = |at: [f64; 2]| {
        let strand = surface.glance(at)?;
        let around = [[share, 0.0], [-share, 0.0], [0.0, near], [0.0, -near]];
        let same = |by: &[f64; 2]| surface.glance([at[0] + by[0], at[1] + by[1]]) == Some(strand);
        around.iter().all(same).then_some((at, strand))
    };
    (0..count).filter_map(|k| firm(place(k))).collect()
}

/// The change that a motion makes, moved to where it fits best.
fn fits(
    surface: &Surface,
    places: &[([f64; 2], usize)],
    kind: Motion,
    shift: [f64; 2],
) -> Option<Change> {
    let rough = change(surface, &places[..places.len().min(80)], kind, shift);
    if rough.agrees < HOPEFUL {
        return None;
    }
    let rough = change(surface, places, kind, closer(surface, &rough));
    let mut best = change(surface, places, kind, closer(surface, &rough));
    if best.agrees < AGREES || !is_permutation(&best.parts) {
        return None;
    }
    let turn = surface.repeat_turn;
    let up = (best.raised_mm / surface.repeat_mm).round();
    best.raised_mm -= up * surface.repeat_mm;
    best.turned -= up * turn;
    best.turned -= best.turned.round();
    Some(best)
}

fn is_permutation(parts: &[usize]) -> bool {
    let mut met = vec![false; parts.len()];
    for &part in parts {
        met[part] = true;
    }
    met.iter().all(|&met| met)
}

/// What a motion does, with the share of places at which each strand has become one.
fn change(
    surface: &Surface,
    places: &[([f64; 2], usize)],
    kind: Motion,
    shift: [f64; 2],
) -> Change {
    let count = surface.strands;
    let mut change = Change {
        parts: (0..count).collect(),
        turned: shift[0],
        raised_mm: shift[1],
        kind,
        agrees: 0.0,
    };
    let mut met = vec![0_usize; count * count];
    for &(at, strand) in places {
        if let Some(other) = surface.glance(change.moves(at)) {
            met[strand * count + other] += 1;
        }
    }
    let mut agree = 0;
    for (strand, row) in met.chunks(count).enumerate() {
        let most = (0..count).max_by_key(|&other| (row[other], other == strand));
        if let Some(most) = most {
            change.parts[strand] = most;
            agree += row[most];
        }
    }
    change.agrees = agree as f64 / places.len().max(1) as f64;
    change
}

/// The shift by which moved floats lie best on those whose part they take.
fn closer(surface: &Surface, change: &Change) -> [f64; 2] {
    let (mut sum, mut weight) = ([0.0; 2], 0.0);
    for float in surface
        .floats
        .iter()
        .filter(|float| float.endless.is_none())
    {
        let at = change.moves(float.middle);
        let part = change.parts[float.strand];
        let off = surface
            .floats
            .iter()
            .filter(|other| other.strand == part && alike(float, other))
            .map(|other| surface.nearest_copy([other.middle[0] - at[0], other.middle[1] - at[1]]))
            .min_by(|a, b| surface.length(*a).total_cmp(&surface.length(*b)));
        let near = 0.5 * surface.field.strands.diameter;
        if let Some(off) = off.filter(|off| surface.length(*off) < near) {
            sum = [0, 1].map(|d: usize| sum[d] + off[d] * float.area_mm2);
            weight += float.area_mm2;
        }
    }
    if weight > 0.0 {
        [
            change.turned + sum[0] / weight,
            change.raised_mm + sum[1] / weight,
        ]
    } else {
        [change.turned, change.raised_mm]
    }
}

impl Surface {
    /// A step from one place to another, by whole rounds and repeats the shortest.
    fn nearest_copy(&self, [round, up]: [f64; 2]) -> [f64; 2] {
        let repeats = (up / self.repeat_mm).round();
        let round = round - repeats * self.repeat_turn;
        [round - round.round(), up - repeats * self.repeat_mm]
    }

    /// Length of a step, mm.
    fn length(&self, [round, up]: [f64; 2]) -> f64 {
        (round * self.girth_mm).hypot(up)
    }
}
