//! The next move as an arrow, and the one just done as dots.

use eframe::egui::{Align2, Color32, Pos2, Shape, Stroke, Ui, Vec2};

use super::super::glide::{BOW, Bow, bent, bow};
use super::super::plate::NUMBER;
use super::Scene;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::bench::Side;
use crate::structure::{Move, Place, Way};

/// Where on the strand an arrow begins, and where before the target it ends.
const BEGINS: f32 = 0.70;
const ENDS: f32 = 0.735;
/// A way shorter than this begins further in, read from afar.
const SHORT: f32 = 0.22;
const BEGINS_SHORT: f32 = 0.42;

impl Scene<'_> {
    /// An arrow for each of the next moves, numbered if there are several.
    pub(super) fn next_moves(&self, ui: &Ui) {
        let several = self.view.next.len() > 1;
        for (k, step) in self.view.next.iter().enumerate() {
            let number = several.then(|| (k + 1).to_string());
            self.arrow(ui, *step, number.as_deref());
            self.goal(ui, step.to);
        }
    }

    /// The moves after the next, thin and pale.
    pub(super) fn following(&self, ui: &Ui) {
        let colour = self.theme.ink2.gamma_multiply(0.45);
        for step in self.view.following {
            let line = self.way(*step, BOW).line(1.0);
            let head = (0.075 * self.plate.radius).min(0.4 * stitch::length(&line));
            let shaft = stitch::stretch(&line, 0.0, stitch::length(&line) - 0.7 * head);
            let painter = ui.painter();
            let wide = (0.010 * self.plate.radius).clamp(2.0, 4.0);
            painter.add(Shape::line(shaft, Stroke::new(wide, colour)));
            painter.extend(filled(&barbed(&line, head), colour));
        }
    }

    /// The hand that makes the next move, beside the strand that it takes.
    pub(super) fn palm(&self, ui: &Ui) {
        let (Some(side), Some(step)) = (self.view.hand_next, self.view.next.first()) else {
            return;
        };
        let is_right = side == Side::Right;
        let (centre, radius) = self.plate.palm(step.from, is_right);
        let (painter, theme) = (ui.painter(), self.theme);
        painter.circle_filled(centre, radius, theme.thread);
        let size = 1.1 * radius;
        if is_right {
            Icon::Hand.paint(painter, centre, size, theme.onthread);
        } else {
            Icon::Hand.paint_mirrored(painter, centre, size, theme.onthread);
        }
    }

    /// Dots along the way just gone.
    pub(super) fn just_done(&self, ui: &Ui) {
        for step in self.view.just_done {
            let way = self.way(*step, BOW);
            // The other side where it would lie under the next arrow.
            let way = if self.is_by_the_next(way.point(0.5)) {
                self.way(*step, -BOW)
            } else {
                way
            };
            let dots = stitch::dotted(&way.line(1.0), 2.6, 8.0, self.theme.ink2);
            ui.painter().extend(dots);
            let (at, align) = self.beside(&way);
            self.slip(ui, at, align, "just done");
        }
    }

    /// Words on a slip of paper, to be read over any strand.
    fn slip(&self, ui: &Ui, at: Pos2, align: Align2, words: &str) {
        let (font, ink) = (Role::Note.font(), self.theme.ink2);
        let words = ui.painter().layout_no_wrap(words.to_owned(), font, ink);
        let rect = align.anchor_size(at, words.size());
        let ground = self.theme.paper.gamma_multiply(0.88);
        ui.painter()
            .rect_filled(rect.expand2(Vec2::new(6.0, 2.0)), 8.0, ground);
        ui.painter().galley(rect.min, words, ink);
    }

    /// Where words stand by a way: within it, clear of the numbers at the rim,
    /// unless it leads by the hole.
    fn beside(&self, way: &Bow) -> (Pos2, Align2) {
        if self.view.afar {
            return (self.clear_of_arrows(way), Align2::CENTER_CENTER);
        }
        let middle = way.point(0.5);
        let from_hole = middle - self.plate.centre;
        if from_hole.length() > 0.55 * self.plate.radius {
            return (
                middle - 14.0 * from_hole.normalized(),
                Align2::CENTER_CENTER,
            );
        }
        let at = way.point(0.3);
        let out = (at - self.plate.centre).normalized();
        let align = if out.x < 0.0 {
            Align2::RIGHT_CENTER
        } else {
            Align2::LEFT_CENTER
        };
        (at + 10.0 * out, align)
    }

    /// By a way, as far from every arrow, number and the hole as may be.
    fn clear_of_arrows(&self, way: &Bow) -> Pos2 {
        let ways = self.view.next.iter().chain(self.view.following);
        let arrows: Vec<Pos2> = ways
            .flat_map(|step| self.way(*step, BOW).line(1.0))
            .collect();
        let used = self.view.strands.iter().flat_map(|strand| {
            let along = [NUMBER, 0.6, 0.4];
            along.map(|share| self.plate.at(strand.place, share))
        });
        let in_the_way: Vec<Pos2> = arrows.into_iter().chain(used.flatten()).collect();
        let room = |at: Pos2| {
            let least = in_the_way.iter().map(|it| it.distance(at));
            least.fold(f32::INFINITY, f32::min)
        };
        let beside = |share: f32| {
            let (at, way) = (way.point(share), way.point(share + 0.02));
            let aside = (0.07 * self.plate.radius).max(15.0) * (way - at).normalized().rot90();
            [at + 2.2 * aside, at - 2.2 * aside]
        };
        let places = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2].into_iter().flat_map(beside);
        let inside = |at: &Pos2| at.distance(self.plate.centre) < 0.72 * self.plate.radius;
        let best = places
            .filter(inside)
            .max_by(|a, b| room(*a).total_cmp(&room(*b)));
        best.unwrap_or(way.point(0.5))
    }

    fn is_by_the_next(&self, at: Pos2) -> bool {
        let apart = |step: &Move| self.way(*step, BOW).point(0.5).distance(at);
        let least = 0.3 * self.plate.radius;
        self.view.next.iter().any(|step| apart(step) < least)
    }

    fn way(&self, step: Move, share: f32) -> Bow {
        let to = self.end(step.to, ENDS);
        let near = self.end(step.from, BEGINS);
        // A short way begins further in, or its arrow would be lost under its own ring.
        let is_short = near.distance(to) < SHORT * self.plate.radius;
        let from = match self.view.afar && is_short {
            true => self.end(step.from, BEGINS_SHORT),
            false => near,
        };
        match self
            .view
            .exchange
            .filter(|_| self.view.next.contains(&step))
        {
            // Round one another: each passes on the same side of its own way.
            Some(Way::Clockwise) => bent(from, to, 1.6 * BOW),
            Some(Way::Anticlockwise) => bent(from, to, -1.6 * BOW),
            None => bow(from, to, self.plate.centre, share),
        }
    }

    fn end(&self, place: Place, share: f32) -> Pos2 {
        let on_rim = self.plate.at(place, share);
        on_rim.unwrap_or_else(|| self.plate.tip(place, 0))
    }

    fn arrow(&self, ui: &Ui, step: Move, number: Option<&str>) {
        let painter = ui.painter();
        let way = self.way(step, BOW);
        let line = way.line(1.0);
        let wide = self.arrow_width(stitch::length(&line));
        let head = 4.8 * wide;
        let shaft = stitch::stretch(&line, 0.0, stitch::length(&line) - 0.72 * head);
        let barb = barbed(&line, head);
        let (paper, thread) = (self.theme.paper, self.theme.thread);
        // A gap of paper parts it from any strand below.
        painter.extend(stitch::thread(shaft.clone(), wide + 6.0, paper));
        painter.extend(edged(&barb, paper, 6.0));
        painter.extend(stitch::thread(shaft, wide, thread));
        painter.extend(filled(&barb, thread));
        let start = way.point(0.0);
        let ring = 1.25 * wide + 2.0;
        painter.circle(start, ring + 3.0, paper, Stroke::NONE);
        painter.circle(start, ring, paper, Stroke::new(0.75 * wide, thread));
        if let Some(number) = number {
            let font = Face::Bold.at((1.6 * wide).max(11.0));
            painter.circle_filled(start, 1.5 * wide + 4.0, thread);
            let ink = self.theme.onthread;
            painter.text(start, Align2::CENTER_CENTER, number, font, ink);
        }
    }

    /// Wide enough for a glance, and no wider than its length bears.
    fn arrow_width(&self, long: f32) -> f32 {
        if !self.view.afar {
            return (self.plate.radius / 44.0).clamp(4.0, 11.0);
        }
        let wide = (self.plate.radius / 25.0).clamp(5.0, 18.0);
        wide.min((long / 9.0).max(4.0))
    }

    /// The slot a move goes to: its number in a stitched ring.
    fn goal(&self, ui: &Ui, place: Place) {
        let Some(centre) = self.plate.at(place, NUMBER) else {
            return;
        };
        let size = self.plate.number_size();
        let painter = ui.painter();
        painter.circle_filled(centre, 0.95 * size, self.theme.soft);
        let ring = stitch::circle_outline(centre, 0.95 * size);
        painter.extend(stitch::dashed(&ring, stitch::CHOSEN, self.theme.thread));
        self.number(ui, place, Face::Bold.at(size), self.theme.ink);
    }
}

/// The head at the end of a line: tip, barb, notch, barb.
fn barbed(line: &[Pos2], head: f32) -> [Pos2; 4] {
    let whole = stitch::length(line);
    let back = stitch::stretch(line, whole - head, whole);
    let tip = line[line.len() - 1];
    let way = back
        .first()
        .map_or(Vec2::Y, |foot| tip - *foot)
        .normalized();
    let aside = way.rot90();
    let foot = tip - head * way;
    [
        tip,
        foot + 0.52 * head * aside,
        foot + 0.24 * head * way,
        foot - 0.52 * head * aside,
    ]
}

/// The head as two halves, since a notch is not convex.
fn filled(head: &[Pos2; 4], colour: Color32) -> Vec<Shape> {
    let halves = [[head[0], head[1], head[2]], [head[0], head[2], head[3]]];
    let seam = Stroke::new(0.8, colour);
    halves
        .map(|half| Shape::convex_polygon(half.to_vec(), colour, seam))
        .to_vec()
}

/// An edge with round corners round the head.
fn edged(head: &[Pos2; 4], colour: Color32, width: f32) -> Vec<Shape> {
    (0..4)
        .flat_map(|k| stitch::thread(vec![head[k], head[(k + 1) % 4]], width, colour))
        .collect()
}
