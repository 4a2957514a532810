//! Where things stand on the disc.

use std::f32::consts::TAU;

use eframe::egui::{Pos2, Rect, Vec2, vec2};

use crate::structure::Place;

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

/// The disc on the screen.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plate {
    /// Its middle.
    pub(super) centre: Pos2,
    /// Its radius.
    pub(super) radius: f32,
    /// Number of slots.
    pub(super) slots: u16,
}

impl Plate {
    /// The largest disc that `rect` has room for, letters and all.
    pub(super) fn fit(rect: Rect, slots: u16) -> Self {
        let half = rect.width().min(rect.height()) / 2.0;
        Self {
            centre: rect.center(),
            radius: ((half - 15.0) / TAG).max(20.0),
            slots,
        }
    }

    /// Angle of a place, clockwise from the top; the hand has none.
    pub(super) fn angle(&self, place: Place) -> Option<f32> {
        place.angle(self.slots).map(|angle| angle as f32)
    }

    /// The point at an angle, `share` of the radius from the middle.
    pub(super) fn point(&self, angle: f32, share: f32) -> Pos2 {
        self.centre + share * self.radius * direction(angle)
    }

    /// Where the outer end of a strand at this place is.
    ///
    /// Strands in the hand fan out over the middle; `nth` of them stands apart
    /// from the others.
    pub(super) fn tip(&self, place: Place, nth: usize) -> Pos2 {
        match self.angle(place) {
            Some(angle) => self.point(angle, STRAND_END),
            None => self.point(0.7 + 0.5 * nth as f32, IN_HAND),
        }
    }

    /// Where the letter of a strand stands whose end is at `tip`.
    pub(super) fn tag(&self, tip: Pos2) -> Pos2 {
        let out = tip - self.centre;
        let clear = (TAG - STRAND_END) * self.radius;
        tip + clear * out.normalized()
    }

    /// The slot nearest to a point at the rim.
    pub(super) fn slot_at(&self, point: Pos2) -> Option<u16> {
        let out = point - self.centre;
        let share = out.length() / self.radius;
        (0.68..1.35).contains(&share).then(|| {
            let turn = out.x.atan2(-out.y).rem_euclid(TAU) / TAU;
            let slot = (turn * f32::from(self.slots)).floor() as u16;
            slot.min(self.slots - 1) + 1
        })
    }

    /// Whether a point lies over the middle of the disc.
    pub(super) fn is_middle(&self, point: Pos2) -> bool {
        point.distance(self.centre) < 0.3 * self.radius
    }

    /// Whether a point lies on the disc or its letters.
    pub(super) fn is_near(&self, point: Pos2) -> bool {
        point.distance(self.centre) < (TAG + 0.1) * self.radius
    }

    /// Width of a strand of a thickness in mm: true to the others as far as the
    /// disc allows.
    pub(super) fn strand_width(&self, thickness_mm: f64) -> f32 {
        let share = 0.062 * thickness_mm as f32 / 2.0;
        share.clamp(0.02, 0.11) * self.radius
    }

    /// Size of the slot numbers.
    pub(super) fn number_size(&self) -> f32 {
        let apart = TAU * NUMBER * self.radius / f32::from(self.slots);
        (self.radius / 17.0)
            .clamp(12.0, 17.0)
            .min((0.62 * apart).max(9.0))
    }

    /// Every how many slots a free one's number is written.
    pub(super) fn numbers_every(&self) -> u16 {
        let apart = TAU * NUMBER * self.radius / f32::from(self.slots);
        if self.radius >= 130.0 && apart > 1.7 * self.number_size() {
            1
        } else {
            5
        }
    }

    /// Radius of a letter's tag when strands stand as near as these.
    pub(super) fn tag_radius(&self, nearest_half_slots: u16) -> f32 {
        let apart =
            TAU * TAG * self.radius * f32::from(nearest_half_slots) / (2.0 * f32::from(self.slots));
        (self.radius / 18.0)
            .clamp(9.0, 14.0)
            .min(0.48 * apart)
            .max(5.0)
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

/// The direction of an angle clockwise from the top.
pub(super) fn direction(angle: f32) -> Vec2 {
    vec2(angle.sin(), -angle.cos())
}

#[cfg(test)]
mod tests {
    use eframe::egui::pos2;

    use super::*;

    fn plate(slots: u16) -> Plate {
        let rect = Rect::from_min_size(Pos2::ZERO, Vec2::splat(600.0));
        Plate::fit(rect, slots)
    }

    #[test]
    fn the_mark_at_the_top_lies_between_the_last_slot_and_the_first() {
        let plate = plate(32);
        let first = plate.angle(Place::slot(1)).unwrap();
        let last = plate.angle(Place::slot(32)).unwrap();
        assert!((first + last - TAU).abs() < 1e-5, "{first} and {last}");
        assert!((first - TAU / 64.0).abs() < 1e-5, "{first}");
    }

    #[test]
    fn every_slot_is_found_again_where_it_stands() {
        for slots in [4, 6, 30, 32, 64, 128] {
            let plate = plate(slots);
            for slot in 1..=slots {
                let angle = plate.angle(Place::slot(slot)).unwrap();
                let found = plate.slot_at(plate.point(angle, 1.0));
                assert_eq!(found, Some(slot), "of {slots}");
            }
        }
    }

    #[test]
    fn letters_have_room_in_the_window() {
        let plate = plate(32);
        let top = plate.tag(plate.tip(Place::slot(1), 0));
        assert!(top.y - plate.tag_radius(2) > 0.0, "{top:?}");
    }

    #[test]
    fn twice_the_thickness_is_drawn_twice_as_wide() {
        let plate = plate(32);
        let ratio = plate.strand_width(2.0) / plate.strand_width(1.0);
        assert!((ratio - 2.0).abs() < 1e-4, "{ratio}");
    }

    #[test]
    fn a_point_on_a_strand_has_no_distance_to_it() {
        let plate = plate(32);
        let angle = plate.angle(Place::slot(8)).unwrap();
        let tip = plate.point(angle, STRAND_END);
        assert!(plate.distance(plate.point(angle, 0.6), tip) < 0.01);
        let aside = plate.distance(plate.point(angle + 0.3, 0.6), tip);
        assert!(aside > 40.0, "{aside}");
        assert!(plate.slot_at(pos2(300.0, 300.0)).is_none());
    }
}
