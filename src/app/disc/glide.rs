//! Strands gliding to a new place.

use std::collections::BTreeMap;

use eframe::egui::{Pos2, Ui};

use super::DiscView;
use super::plate::Plate;
use crate::structure::Place;

/// How long a strand takes to its slot, seconds.
const LASTS: f64 = 0.22;

/// Where strands were seen last, and which are on their way.
#[derive(Debug, Clone, Default)]
pub(super) struct Glides {
    seen: Vec<Place>,
    under_way: BTreeMap<usize, Glide>,
}

#[derive(Debug, Clone, Copy)]
struct Glide {
    from: Place,
    since: f64,
}

impl Glides {
    /// Notes who has moved since the last frame, and forgets who has arrived.
    pub(super) fn follow(&mut self, ui: &Ui, view: &DiscView<'_>) {
        let now = ui.input(|input| input.time);
        let places: Vec<Place> = view.strands.iter().map(|s| s.place).collect();
        if view.glides && places.len() == self.seen.len() {
            for (strand, from) in self.seen.iter().enumerate() {
                if *from != places[strand] {
                    let glide = Glide {
                        from: *from,
                        since: now,
                    };
                    self.under_way.insert(strand, glide);
                }
            }
        } else {
            self.under_way.clear();
        }
        self.seen = places;
        self.under_way.retain(|_, glide| now - glide.since < LASTS);
        if !self.under_way.is_empty() {
            ui.ctx().request_repaint();
        }
    }

    /// Whether a strand is on its way.
    pub(super) fn is_under_way(&self, strand: usize) -> bool {
        self.under_way.contains_key(&strand)
    }

    /// Where the end of a strand is drawn now.
    pub(super) fn tip(&self, view: &DiscView<'_>, plate: &Plate, strand: usize, now: f64) -> Pos2 {
        let to = plate.tip(view.strands[strand].place, strand);
        let Some(glide) = self.under_way.get(&strand) else {
            return to;
        };
        let share = ((now - glide.since) / LASTS).clamp(0.0, 1.0) as f32;
        let eased = share * share * (3.0 - 2.0 * share);
        let from = plate.tip(glide.from, strand);
        bow(from, to, plate.centre, BOW).point(eased)
    }
}

/// How far a way across the disc bows to the side, as a share of its length.
pub(super) const BOW: f32 = 0.26;

/// A way across the disc, bowed to one side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bow {
    from: Pos2,
    handle: Pos2,
    to: Pos2,
}

impl Bow {
    /// The point at a share of the way.
    pub(super) fn point(&self, share: f32) -> Pos2 {
        let (a, b) = (
            self.from.lerp(self.handle, share),
            self.handle.lerp(self.to, share),
        );
        a.lerp(b, share)
    }

    /// The way as a line from its beginning to a share of it.
    pub(super) fn line(&self, share: f32) -> Vec<Pos2> {
        (0..=32)
            .map(|k| self.point(share * k as f32 / 32.0))
            .collect()
    }
}

/// The way from one point to another, bowed by a share of its length, away from
/// `middle` where it does not go through it.
pub(super) fn bow(from: Pos2, to: Pos2, middle: Pos2, share: f32) -> Bow {
    let way = to - from;
    let aside = way.rot90();
    let half = from + 0.5 * way;
    // A way through the middle bows to the right of the hand that walks it.
    let side = if (half - middle).dot(aside) >= -1.0 {
        1.0
    } else {
        -1.0
    };
    bent(from, to, side * share)
}

/// The way from one point to another, bowed to its left by a share of its length.
pub(super) fn bent(from: Pos2, to: Pos2, share: f32) -> Bow {
    let way = to - from;
    // The bow of a curve with one handle is half as deep as the handle stands off.
    let handle = from + 0.5 * way + 2.0 * share * way.rot90();
    Bow { from, handle, to }
}

#[cfg(test)]
mod tests {
    use eframe::egui::pos2;

    use super::*;

    #[test]
    fn a_way_bows_by_its_share_and_keeps_its_ends() {
        let way = bow(pos2(0.0, 100.0), pos2(0.0, -100.0), Pos2::ZERO, 0.26);
        assert_eq!(way.point(0.0), pos2(0.0, 100.0));
        assert_eq!(way.point(1.0), pos2(0.0, -100.0));
        let deepest = way.point(0.5).x.abs();
        assert!((deepest - 52.0).abs() < 0.01, "{deepest}");
    }

    #[test]
    fn a_way_beside_the_middle_bows_away_from_it() {
        let way = bow(pos2(50.0, 80.0), pos2(50.0, -80.0), Pos2::ZERO, 0.2);
        assert!(way.point(0.5).x > 50.0);
        let back = bow(pos2(50.0, -80.0), pos2(50.0, 80.0), Pos2::ZERO, 0.2);
        assert!(back.point(0.5).x > 50.0);
    }
}
