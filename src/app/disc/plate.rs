//! Where things stand on the disc, or on a square plate.
//!
//! Everything that belongs to a place lies on the line from the middle to it, a
//! share of the way: 0 is the middle, 1 the rim. The rim is a circle, or a square
//! with the same width.

use std::f32::consts::TAU;

use eframe::egui::{Pos2, Rect, Vec2, emath::Rot2, vec2};

use super::DiscView;
use crate::app::stitch;
use crate::structure::{self, Place};

/// Radius of the hole.
pub(super) const HOLE: f32 = 0.18;
/// Where a strand's slot begins.
pub(super) const SLOT: f32 = 0.895;
/// Where the numbers stand.
pub(super) const NUMBER: f32 = 0.845;
/// Where a strand goes down.
pub(super) const STRAND_END: f32 = 0.985;
/// Where what hangs below the slot ends.
pub(super) const STUB_END: f32 = 1.055;
/// Where the letters stand.
pub(super) const TAG: f32 = 1.13;
/// How far the strand in the hand reaches.
const IN_HAND: f32 = 0.42;
/// How far a hand beside a strand reaches out, as a share of the radius.
const PALM: f32 = 1.21;
/// Pieces the rim of a disc is cut into.
const ROUND: u32 = 96;
/// How round the corners of a square plate are, a share of half its side.
const CORNER: f32 = 0.07;

/// The disc on the screen.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plate {
    /// Its middle.
    pub(super) centre: Pos2,
    /// Its radius, or half the side of a square.
    pub(super) radius: f32,
    /// Number of slots.
    pub(super) slots: u16,
    /// Round or square.
    pub(super) shape: structure::Plate,
    /// How far it is turned, clockwise, radians.
    pub(super) turn: f32,
    /// Whether it is made to be read from afar.
    afar: bool,
}

impl Plate {
    /// The largest disc that `rect` has room for, letters and all, or the hand
    /// beside it where that is shown.
    pub(super) fn fit(rect: Rect, view: &DiscView<'_>) -> Self {
        let half = rect.width().min(rect.height()) / 2.0;
        let radius = if view.afar {
            (half - 3.0) / PALM
        } else {
            (half - 15.0) / TAG
        };
        Self {
            centre: rect.center(),
            radius: radius.max(20.0),
            slots: view.slots,
            shape: view.plate,
            turn: view.turn,
            afar: view.afar,
        }
    }

    /// The point a share of the way from the middle to a place on the rim; the
    /// hand has none.
    pub(super) fn at(&self, place: Place, share: f32) -> Option<Pos2> {
        if place == Place::Hand {
            return None;
        }
        let [right, away] = self.shape.point(place, self.slots).map(|x| x as f32);
        let point = self.turned(vec2(right, -away), self.turn);
        Some(self.centre + share * self.radius * point)
    }

    /// Turned clockwise; as it is where nothing is turned, so that quarters of a
    /// square stay on its sides.
    fn turned(&self, point: Vec2, turn: f32) -> Vec2 {
        if turn == 0.0 {
            return point;
        }
        Rot2::from_angle(turn) * point
    }

    /// The point in a direction, clockwise from the top, `share` of the radius
    /// from the middle.
    fn point(&self, angle: f32, share: f32) -> Pos2 {
        self.centre + share * self.radius * vec2(angle.sin(), -angle.cos())
    }

    /// The rim at a share of its size, a closed line without its last point; of as
    /// many points at every share.
    pub(super) fn outline(&self, share: f32) -> Vec<Pos2> {
        let points = match self.shape {
            structure::Plate::Disc => {
                let turn = |step: u32| TAU * step as f32 / ROUND as f32;
                let point = |step| self.centre + self.radius * Vec2::angled(turn(step));
                (0..ROUND).map(point).collect()
            }
            structure::Plate::Square => {
                let square = Rect::from_center_size(self.centre, Vec2::splat(2.0 * self.radius));
                let mut points = stitch::rounded_outline(square, CORNER * self.radius);
                points.pop();
                points
            }
        };
        let point = |at: Pos2| self.centre + share * self.turned(at - self.centre, self.turn);
        points.into_iter().map(point).collect()
    }

    /// How far out a point lies: 1 at the rim.
    fn share_of(&self, point: Pos2) -> f32 {
        let out = self.turned(point - self.centre, -self.turn);
        let reach = match self.shape {
            structure::Plate::Disc => out.length(),
            structure::Plate::Square => out.x.abs().max(out.y.abs()),
        };
        reach / self.radius
    }

    /// Between two slots that are next to each other, a share of the way out.
    fn apart(&self, share: f32) -> f32 {
        let round = match self.shape {
            structure::Plate::Disc => TAU,
            structure::Plate::Square => 8.0,
        };
        round * share * self.radius / f32::from(self.slots)
    }

    /// Where the outer end of a strand at this place is.
    ///
    /// Strands in the hand fan out over the middle; `nth` of them stands apart
    /// from the others.
    pub(super) fn tip(&self, place: Place, nth: usize) -> Pos2 {
        self.at(place, STRAND_END)
            .unwrap_or_else(|| self.point(0.7 + 0.5 * nth as f32, IN_HAND))
    }

    /// Where the letter of a strand stands whose end is at `tip`.
    pub(super) fn tag(&self, tip: Pos2) -> Pos2 {
        let out = tip - self.centre;
        let clear = (TAG - STRAND_END) * self.radius;
        tip + clear * out.normalized()
    }

    /// The slot nearest to a point at the rim.
    pub(super) fn slot_at(&self, point: Pos2) -> Option<u16> {
        let share = self.share_of(point);
        (0.68..1.35).contains(&share).then(|| {
            let rim = self.turned(point - self.centre, -self.turn);
            let round = self.round(rim / (share * self.radius));
            let slot = (round * f32::from(self.slots)).floor() as u16;
            slot.min(self.slots - 1) + 1
        })
    }

    /// How far round the rim one has gone at a point of it, from the first slot on;
    /// the whole way is 1. In radii from the middle.
    fn round(&self, rim: Vec2) -> f32 {
        if self.shape.is_disc() {
            return rim.x.atan2(-rim.y).rem_euclid(TAU) / TAU;
        }
        let (side, along) = match rim {
            Vec2 { x, y } if -y >= x.abs() => (0.0, x),
            Vec2 { x, y } if x >= y.abs() => (1.0, y),
            Vec2 { x, y } if y >= x.abs() => (2.0, -x),
            Vec2 { y, .. } => (3.0, -y),
        };
        (side + (0.5 + 0.5 * along).clamp(0.0, 0.999)) / 4.0
    }

    /// The direction of the rim at a point of it, clockwise.
    pub(super) fn along(&self, rim: Pos2) -> Vec2 {
        let out = self.turned(rim - self.centre, -self.turn);
        let along = match self.shape {
            structure::Plate::Disc => out.normalized().rot90(),
            structure::Plate::Square if out.y.abs() >= out.x.abs() => vec2(-out.y.signum(), 0.0),
            structure::Plate::Square => vec2(0.0, out.x.signum()),
        };
        self.turned(along, self.turn)
    }

    /// Whether a point lies over the middle of the disc.
    pub(super) fn is_middle(&self, point: Pos2) -> bool {
        point.distance(self.centre) < 0.3 * self.radius
    }

    /// Whether a point lies on the disc or its letters.
    pub(super) fn is_near(&self, point: Pos2) -> bool {
        self.share_of(point) < TAG + 0.1
    }

    /// Width of a strand of a thickness in mm: true to the others as far as the
    /// disc allows.
    pub(super) fn strand_width(&self, thickness_mm: f64) -> f32 {
        let share = 0.062 * thickness_mm as f32 / 2.0;
        share.clamp(0.02, 0.11) * self.radius
    }

    /// Size of the slot numbers.
    pub(super) fn number_size(&self) -> f32 {
        let apart = self.apart(NUMBER);
        let most = if self.afar { 30.0 } else { 17.0 };
        (self.radius / 17.0)
            .clamp(12.0, most)
            .min((0.62 * apart).max(9.0))
    }

    /// Every how many slots a free one's number is written.
    pub(super) fn numbers_every(&self) -> u16 {
        let apart = self.apart(NUMBER);
        if self.radius >= 130.0 && apart > 1.7 * self.number_size() {
            1
        } else {
            5
        }
    }

    /// Radius of a letter's tag when strands stand as near as these.
    pub(super) fn tag_radius(&self, nearest_half_slots: u16) -> f32 {
        let apart = 0.5 * self.apart(TAG) * f32::from(nearest_half_slots);
        (self.radius / 18.0)
            .clamp(9.0, 14.0)
            .min(0.48 * apart)
            .max(5.0)
    }

    /// Where the hand stands that works at a place, on its side of the strand, and
    /// its radius. A place in the hand has it beside the strand's end.
    pub(super) fn palm(&self, place: Place, is_right: bool) -> (Pos2, f32) {
        let radius = (0.074 * self.radius).clamp(9.0, 40.0);
        let Some(rim) = self.at(place, STUB_END) else {
            return (self.tip(place, 0) + vec2(1.4 * radius, 0.0), radius);
        };
        let out = (rim - self.centre).normalized();
        let aside = if is_right { 0.3 } else { -0.3 } * radius;
        (rim + (radius + 2.0) * out + vec2(aside, 0.0), radius)
    }

    /// The middle of a strand from the point of braiding to `tip`.
    ///
    /// In the hole it curls to the middle, turning 74° about it.
    pub(super) fn strand_path(&self, tip: Pos2) -> Vec<Pos2> {
        let out = tip - self.centre;
        let angle = out.x.atan2(-out.y);
        let reach = out.length() / self.radius;
        let mut path: Vec<Pos2> = (0..=12)
            .map(|k| k as f32 / 12.0)
            .map(|t| {
                let share = HOLE * (0.10 + 0.96 * t);
                let curl = (1.0 - t) * (1.0 - t) * 74.0_f32.to_radians();
                self.point(angle - curl, share.min(reach))
            })
            .collect();
        path.push(tip);
        path
    }

    /// How far a point lies from the straight part of a strand ending at `tip`.
    pub(super) fn distance(&self, point: Pos2, tip: Pos2) -> f32 {
        let out = tip - self.centre;
        let way = out.normalized();
        let along = (point - self.centre).dot(way);
        let reach = out.length() + (STUB_END - STRAND_END) * self.radius;
        let held = along.clamp((1.1 * HOLE * self.radius).min(reach), reach);
        point.distance(self.centre + held * way)
    }
}

#[cfg(test)]
mod tests {
    use eframe::egui::pos2;

    use super::*;
    use structure::Plate::{Disc, Square};

    fn plate(slots: u16, shape: structure::Plate) -> Plate {
        turned(slots, shape, 0.0)
    }

    fn turned(slots: u16, shape: structure::Plate, turn: f32) -> Plate {
        let rect = Rect::from_min_size(Pos2::ZERO, Vec2::splat(600.0));
        let view = DiscView {
            plate: shape,
            turn,
            ..DiscView::new(slots, &[], &NONE_CHOSEN)
        };
        Plate::fit(rect, &view)
    }

    static NONE_CHOSEN: std::collections::BTreeSet<usize> = std::collections::BTreeSet::new();

    #[test]
    fn a_quarter_clockwise_brings_the_top_to_the_right() {
        for shape in [Disc, Square] {
            let [plain, quarter] = [0.0, TAU / 4.0].map(|turn| turned(32, shape, turn));
            let out = |plate: &Plate, slot| plate.at(Place::slot(slot), 1.0).unwrap();
            for slot in 1..=32 {
                let on = (slot + 7) % 32 + 1;
                let apart = out(&quarter, slot).distance(out(&plain, on));
                assert!(apart < 0.01, "{slot} lies where {on} lay: {apart}");
                assert_eq!(quarter.slot_at(out(&quarter, slot)), Some(slot));
            }
        }
    }

    #[test]
    fn the_mark_at_the_top_lies_between_the_last_slot_and_the_first() {
        let plate = plate(32, Disc);
        let [first, last] = [1, 32].map(|slot| plate.at(Place::slot(slot), 1.0).unwrap());
        let middle = first.lerp(last, 0.5);
        assert!((middle.x - plate.centre.x).abs() < 1e-3, "{middle:?}");
        assert!(middle.y < plate.centre.y && first.x > last.x);
    }

    #[test]
    fn every_slot_is_found_again_where_it_stands() {
        for slots in [4, 6, 30, 32, 64, 128] {
            for shape in [Disc, Square]
                .into_iter()
                .take(1 + usize::from(slots % 4 == 0))
            {
                let plate = plate(slots, shape);
                for slot in 1..=slots {
                    for share in [0.75, 1.0, 1.2] {
                        let found = plate.slot_at(plate.at(Place::slot(slot), share).unwrap());
                        assert_eq!(found, Some(slot), "of {slots} on a {}", shape.word());
                    }
                }
            }
        }
    }

    #[test]
    fn the_slots_of_a_square_stand_on_its_four_sides() {
        let plate = plate(32, Square);
        let at = |slot| plate.at(Place::slot(slot), 1.0).unwrap() - plate.centre;
        for k in 1..=8 {
            assert!((at(k).y + plate.radius).abs() < 1e-3, "far side: {k}");
            assert!((at(8 + k).x - plate.radius).abs() < 1e-3, "right side: {k}");
        }
        let step = at(2).x - at(1).x;
        assert!((step - plate.radius / 4.0).abs() < 1e-3, "evenly: {step}");
        let corner = plate.centre + vec2(0.99, -0.99) * plate.radius;
        assert!(plate.is_near(corner), "the corner belongs to it");
        let corner = plate
            .outline(1.0)
            .into_iter()
            .map(|p| p.distance(plate.centre));
        let farthest = corner.fold(0.0, f32::max);
        assert!(farthest > 1.3 * plate.radius, "it has corners: {farthest}");
    }

    #[test]
    fn letters_have_room_in_the_window() {
        for shape in [Disc, Square] {
            let plate = plate(32, shape);
            for slot in 1..=32 {
                let tag = plate.tag(plate.tip(Place::slot(slot), 0));
                let room = Rect::from_min_size(Pos2::ZERO, Vec2::splat(600.0));
                assert!(room.shrink(plate.tag_radius(2)).contains(tag), "{tag:?}");
            }
        }
    }

    #[test]
    fn twice_the_thickness_is_drawn_twice_as_wide() {
        let plate = plate(32, Disc);
        let ratio = plate.strand_width(2.0) / plate.strand_width(1.0);
        assert!((ratio - 2.0).abs() < 1e-4, "{ratio}");
    }

    #[test]
    fn a_point_on_a_strand_has_no_distance_to_it() {
        for shape in [Disc, Square] {
            let plate = plate(32, shape);
            let eight = Place::slot(8);
            let tip = plate.at(eight, STRAND_END).unwrap();
            assert!(plate.distance(plate.at(eight, 0.6).unwrap(), tip) < 0.01);
            let other = plate.at(Place::slot(11), 0.6).unwrap();
            assert!(plate.distance(other, tip) > 40.0);
            assert!(plate.slot_at(pos2(300.0, 300.0)).is_none());
        }
    }
}
