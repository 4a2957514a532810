//! The disc on the screen, from the foam up.

mod core;
mod ground;
mod moves;

use eframe::egui::{self, Align2, Color32, Pos2, Rect, Response, Shape, Stroke, Ui, Vec2};

use super::names;
use super::plate::{HOLE, NUMBER, Plate, STUB_END, TAG};
use super::thread::Yarn;
use super::{DiscMemory, DiscTool, DiscView, Pull, hands};
use crate::app::controls::keyboard_leads;
use crate::app::filling::fill;
use crate::app::flags;
use crate::app::fonts::Face;
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::structure::Place;

/// All that is needed to draw.
pub(super) struct Scene<'a> {
    pub(super) view: &'a DiscView<'a>,
    pub(super) plate: &'a Plate,
    pub(super) memory: &'a DiscMemory,
    pub(super) theme: &'a Theme,
}

impl Scene<'_> {
    /// Draws everything.
    pub(super) fn draw(&self, ui: &Ui, disc: &Response) {
        let pointer = self.pointer(ui, disc);
        self.ground(ui);
        self.free_numbers(ui);
        let hovered = pointer
            .filter(|_| self.memory.pull.is_none())
            .and_then(|at| names::strand_under(self.view, self.plate, at));
        for strand in self.on_the_disc() {
            self.band(ui, strand, hovered);
        }
        for strand in self.on_the_disc() {
            self.strand(ui, strand);
        }
        self.darken_hole(ui);
        self.flag_lines(ui);
        self.used_numbers(ui);
        self.flag_places(ui);
        self.unsure_places(ui);
        self.tags(ui, &self.on_the_disc(), hovered);
        self.core(ui);
        self.just_done(ui);
        self.following(ui);
        self.next_moves(ui);
        for strand in self.above_the_disc() {
            self.strand(ui, strand);
        }
        self.tags(ui, &self.above_the_disc(), hovered);
        self.palm(ui);
        if let Some(at) = pointer {
            self.pull(ui, at);
        }
        self.cursor(ui, disc);
    }

    fn pointer(&self, ui: &Ui, disc: &Response) -> Option<Pos2> {
        let inside = ui.rect_contains_pointer(disc.rect) || self.memory.pull.is_some();
        ui.input(|input| input.pointer.latest_pos())
            .filter(|_| inside && self.view.enabled)
    }

    /// Whether a strand is lifted off the foam: in the hand or on its way.
    fn is_lifted(&self, strand: usize) -> bool {
        self.view.strands[strand].place == Place::Hand
            || self.memory.glides.is_under_way(strand)
            || self.memory.pull == Some(Pull::Strand(strand))
            || self.memory.carried == Some(strand)
    }

    fn on_the_disc(&self) -> Vec<usize> {
        let mut strands = self.view.upwards();
        strands.retain(|strand| !self.is_lifted(*strand));
        strands
    }

    fn above_the_disc(&self) -> Vec<usize> {
        let mut strands = self.view.upwards();
        strands.retain(|strand| self.is_lifted(*strand));
        strands
    }

    /// Where the end of a strand is drawn: at its place, on its way, or in the
    /// hand that pulls it.
    fn tip(&self, ui: &Ui, strand: usize) -> Pos2 {
        let pulled = self.memory.pull == Some(Pull::Strand(strand));
        let at = ui.input(|input| input.pointer.latest_pos());
        if let Some(at) = at.filter(|_| pulled) {
            return at;
        }
        if self.memory.carried == Some(strand) {
            let cursor = Place::slot(self.memory.cursor);
            return self.plate.at(cursor, 0.92).unwrap_or(self.plate.centre);
        }
        let now = ui.input(|input| input.time);
        self.memory.glides.tip(self.view, self.plate, strand, now)
    }

    fn width(&self, strand: usize) -> f32 {
        self.plate
            .strand_width(self.view.strands[strand].thickness_mm)
    }

    fn yarn(&self, strand: usize) -> Yarn<'_> {
        let it = &self.view.strands[strand];
        Yarn {
            colours: &it.colours,
            ends: it.ends,
            look: &it.appearance,
        }
    }

    /// The soft ground under a chosen strand, stitched; without stitches under
    /// the pointer.
    fn band(&self, ui: &Ui, strand: usize, hovered: Option<usize>) {
        let chosen = self.view.chosen.contains(&strand);
        if !chosen && hovered != Some(strand) {
            return;
        }
        let tip = self.tip(ui, strand);
        let out = (tip - self.plate.centre).normalized();
        let from = self.plate.centre + 1.25 * HOLE * self.plate.radius * out;
        let outline = capsule(from, tip, self.width(strand) / 2.0 + 6.0);
        let painter = ui.painter();
        let fill = if chosen {
            self.theme.soft
        } else {
            self.theme.paper
        };
        painter.add(Shape::convex_polygon(outline.clone(), fill, Stroke::NONE));
        if chosen {
            let mut closed = outline;
            closed.extend(closed.first().copied());
            painter.extend(stitch::dashed(&closed, stitch::CHOSEN, self.theme.thread));
        }
    }

    fn strand(&self, ui: &Ui, strand: usize) {
        let tip = self.tip(ui, strand);
        let width = self.width(strand);
        let painter = ui.painter();
        if self.is_lifted(strand) {
            let shadow: Vec<Pos2> = self
                .plate
                .strand_path(tip)
                .iter()
                .map(|p| *p + Vec2::new(2.0, 0.035 * self.plate.radius))
                .collect();
            let shade = self.theme.shade(0.22);
            painter.extend(stitch::thread(shadow, width, shade));
        } else {
            self.stub(ui, strand, tip, width);
        }
        let path = self.plate.strand_path(tip);
        self.yarn(strand).lay(painter, &path, width, self.theme);
        let it = &self.view.strands[strand];
        if let Some((filling, colour)) = it.filling.zip(it.colours.first()) {
            fill(painter, &path, width, filling, *colour);
        }
    }

    /// What is seen of a strand beyond its slot, where it dips out of sight.
    fn stub(&self, ui: &Ui, strand: usize, tip: Pos2, width: f32) {
        let out = (tip - self.plate.centre).normalized();
        let end = self.plate.centre + STUB_END * self.plate.radius * out;
        let path = [tip - 2.0 * out, end];
        self.yarn(strand)
            .lay(ui.painter(), &path, 0.94 * width, self.theme);
        // It goes down, so its beginning lies in the shade of the rim.
        let shade = Color32::BLACK.gamma_multiply(0.28);
        let line = Stroke::new(1.6, shade);
        let across = out.rot90() * width * 0.5;
        let at = tip + 1.2 * out;
        ui.painter().line_segment([at - across, at + across], line);
    }

    /// Lines round the marked strands.
    fn flag_lines(&self, ui: &Ui) {
        let painter = ui.painter();
        for (strand, flag) in &self.view.flags.strands {
            if *strand >= self.view.strands.len() || self.is_lifted(*strand) {
                continue;
            }
            let tip = self.tip(ui, *strand);
            let out = (tip - self.plate.centre).normalized();
            let from = self.plate.centre + 1.3 * HOLE * self.plate.radius * out;
            let mut outline = capsule(from, tip, self.width(*strand) / 2.0 + 2.5);
            outline.extend(outline.first().copied());
            flag.line(painter, &outline, self.theme);
        }
    }

    /// Frames round the marked places.
    fn flag_places(&self, ui: &Ui) {
        let painter = ui.painter();
        for place in &self.view.flags.places {
            let (centre, radius) = match self.plate.at(*place, NUMBER) {
                Some(centre) => (centre, 0.72 * self.plate.number_size()),
                None => (self.plate.centre, 0.9 * HOLE * self.plate.radius),
            };
            flags::frame(painter, centre, radius + 2.0, self.theme);
        }
    }

    fn tags(&self, ui: &Ui, strands: &[usize], hovered: Option<usize>) {
        for strand in strands.iter().filter(|_| !self.view.afar) {
            self.tag(ui, *strand, hovered);
        }
    }

    fn tag(&self, ui: &Ui, strand: usize, hovered: Option<usize>) {
        let it = &self.view.strands[strand];
        let centre = self.plate.tag(self.tip(ui, strand));
        let radius = self.plate.tag_radius(self.nearest());
        if let Some(flag) = self.view.flags.on(strand) {
            let smaller = (0.86 * radius).max(6.0);
            return flag.tag(ui.painter(), centre, smaller, &it.letter, self.theme);
        }
        let chosen = self.view.chosen.contains(&strand);
        let edge = if hovered == Some(strand) {
            self.theme.ink
        } else {
            self.theme.line2
        };
        let (fill, ink, edge) = if chosen {
            (self.theme.thread, self.theme.onthread, self.theme.thread)
        } else {
            (self.theme.paper, self.theme.ink, edge)
        };
        let painter = ui.painter();
        painter.circle(centre, radius, fill, Stroke::new(1.0, edge));
        if radius >= 7.0 {
            let size = (radius * 1.15).min(if it.letter.len() > 1 { 11.0 } else { 15.0 });
            let font = Face::Bold.at(size);
            painter.text(centre, Align2::CENTER_CENTER, &it.letter, font, ink);
        }
    }

    /// A question in a ring of dots at each place of which it is not known what lies there.
    fn unsure_places(&self, ui: &Ui) {
        let painter = ui.painter();
        let size = self.plate.number_size();
        for place in self.view.unsure {
            let Some(centre) = self.plate.at(*place, TAG) else {
                continue;
            };
            let radius = self.plate.tag_radius(2).max(8.0);
            painter.circle_filled(centre, radius, self.theme.well);
            let ring = stitch::circle_outline(centre, radius);
            painter.extend(stitch::dotted(&ring, 2.0, 4.0, self.theme.ink2));
            let font = Face::Bold.at(size.min(1.2 * radius));
            painter.text(centre, Align2::CENTER_CENTER, "?", font, self.theme.ink);
        }
    }

    /// Half slots between the two strands that stand closest.
    fn nearest(&self) -> u16 {
        let mut halves: Vec<u16> = self
            .view
            .strands
            .iter()
            .filter_map(|strand| match strand.place {
                Place::Rim(half) => Some(half),
                Place::Hand => None,
            })
            .collect();
        halves.sort_unstable();
        let round = halves.first().map(|first| first + 2 * self.view.slots);
        halves.extend(round);
        halves
            .windows(2)
            .map(|pair| pair[1] - pair[0])
            .filter(|apart| *apart > 0)
            .min()
            .unwrap_or(2)
    }

    fn free_numbers(&self, ui: &Ui) {
        let every = self.plate.numbers_every();
        for slot in 1..=self.view.slots {
            let place = Place::slot(slot);
            let label = self.view.number(place);
            let round = label.parse::<u16>().is_ok_and(|n| n.is_multiple_of(every));
            let free = self
                .view
                .strand_at(place)
                .is_none_or(|strand| self.is_lifted(strand));
            if free && round {
                let font = Face::Regular.at(self.plate.number_size());
                self.number(ui, place, font, self.theme.slot);
            }
        }
    }

    fn used_numbers(&self, ui: &Ui) {
        let size = self.plate.number_size();
        for strand in self.on_the_disc() {
            let place = self.view.strands[strand].place;
            let Some(centre) = self.plate.at(place, NUMBER) else {
                continue;
            };
            let edge = Stroke::new(0.8, self.theme.line2);
            ui.painter()
                .circle(centre, 0.78 * size, self.theme.paper, edge);
            self.number(ui, place, Face::Bold.at(size), self.theme.ink);
        }
    }

    fn number(&self, ui: &Ui, place: Place, font: egui::FontId, colour: Color32) {
        let Some(at) = self.plate.at(place, NUMBER) else {
            return;
        };
        let label = self.view.number(place);
        let font = if label.contains('.') {
            // A place between two slots has a longer number in the same ring.
            egui::FontId::new(0.68 * font.size, font.family)
        } else {
            font
        };
        ui.painter()
            .text(at, Align2::CENTER_CENTER, label, font, colour);
    }

    /// What follows the pointer: where a strand would land, a band, a brush.
    fn pull(&self, ui: &Ui, at: Pos2) {
        let painter = ui.painter();
        match &self.memory.pull {
            Some(Pull::Strand(strand)) => {
                self.old_place(ui, *strand);
                if let Some(place) = hands::landing(ui, self.view, self.plate, at) {
                    self.target(ui, place);
                }
            }
            Some(Pull::Band(from)) => {
                let band = Rect::from_two_pos(*from, at);
                let fill = self.theme.thread.gamma_multiply(0.08);
                painter.rect_filled(band, 6.0, fill);
                stitch::choose(painter, band, 6.0, self.theme);
            }
            _ if self.view.tool == DiscTool::Paint => {
                let tip = at + Vec2::new(9.0, -9.0);
                painter.circle_filled(tip, 13.0, self.theme.paper);
                let edge = Stroke::new(1.0, self.theme.line2);
                painter.circle_stroke(tip, 13.0, edge);
                Icon::Brush.paint(painter, tip, 16.0, self.theme.ink);
            }
            _ => {}
        }
    }

    /// Dots where a pulled strand came from.
    fn old_place(&self, ui: &Ui, strand: usize) {
        let tip = self.plate.tip(self.view.strands[strand].place, strand);
        let out = (tip - self.plate.centre).normalized();
        let from = self.plate.centre + 1.3 * HOLE * self.plate.radius * out;
        ui.painter()
            .extend(stitch::dotted(&[from, tip], 2.6, 8.0, self.theme.ink2));
    }

    /// The slot a strand would go to, swollen and stitched round.
    fn target(&self, ui: &Ui, place: Place) {
        let painter = ui.painter();
        let size = 1.5 * self.plate.number_size();
        let on_rim = self.plate.at(place, NUMBER);
        let centre = on_rim.unwrap_or(self.plate.centre);
        painter.circle_filled(centre, 0.78 * size, self.theme.soft);
        let ring = stitch::circle_outline(centre, 0.78 * size);
        painter.extend(stitch::dashed(&ring, stitch::CHOSEN, self.theme.thread));
        if on_rim.is_some() {
            self.number(ui, place, Face::Bold.at(size * 0.8), self.theme.ink);
        } else {
            Icon::Hand.paint(painter, centre, 22.0, self.theme.ink);
        }
        if self.view.breaking.contains(&place) {
            // Beside the slot along the rim, clear of strand and letter.
            let out = (centre - self.plate.centre).normalized();
            let beside = centre - 1.9 * size * out.rot90();
            painter.circle_filled(beside, 12.0, self.theme.paper);
            Icon::Broken.paint(painter, beside, 18.0, self.theme.stop);
        }
    }

    /// The ring where the keyboard stands.
    fn cursor(&self, ui: &Ui, disc: &Response) {
        if !disc.has_focus() || !keyboard_leads(ui.ctx()) || self.memory.cursor == 0 {
            return;
        }
        let place = Place::slot(self.memory.cursor);
        let at = self.plate.at(place, NUMBER);
        let centre = at.unwrap_or(self.plate.centre);
        let radius = 0.78 * self.plate.number_size() + 4.0;
        let line = Stroke::new(2.0, self.theme.thread);
        ui.painter().circle_stroke(centre, radius, line);
        if self.memory.carried.is_some() {
            self.target(ui, place);
        }
        let around = self.plate.outline(1.0 + 3.0 / self.plate.radius);
        ui.painter().add(Shape::closed_line(around, line));
    }
}

/// A line of a width with round ends, as an outline.
fn capsule(from: Pos2, to: Pos2, radius: f32) -> Vec<Pos2> {
    let turn = (to - from).angle();
    let half = |centre: Pos2, start: f32| {
        (0..=14).map(move |k| {
            let angle = start + std::f32::consts::PI * k as f32 / 14.0;
            centre + radius * Vec2::angled(angle)
        })
    };
    let quarter = std::f32::consts::FRAC_PI_2;
    half(to, turn - quarter)
        .chain(half(from, turn + quarter))
        .collect()
}
