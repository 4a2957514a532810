//! The card of one structure: its solved picture, its name, and what is known
//! of it.

use eframe::egui::{Align, Id, Layout, Sense, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Pick, tip};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::examiner::Facts;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::theme::Theme;
use crate::app::words;
use crate::cord::{Cord, Firmness, Hand, Section};
use crate::document::Edit;
use crate::quantity::Estimate;

use super::super::LookView;
use super::listed::Entry;
use super::sample::{dotted, ground, order, sample_picture, sample_threads, slides};

/// Size of a sample picture at its least, points.
const PICTURE: (f32, f32) = (200.0, 40.0);
/// Its width.
pub(super) const PICTURE_WIDTH: f32 = PICTURE.0;
/// Room for the words under the picture.
const FOOT: f32 = 98.0;

/// Draws the card; only what is in sight is painted, and solved in the maker's own
/// fibre. What the keyboard calls it.
pub(super) fn card_ui(
    ui: &mut Ui,
    entry: &Entry<'_>,
    width: f32,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) -> Id {
    let is_chosen = desk.moves() == Some(&entry.moves);
    let known = Known::of(entry, desk);
    let spoken = known.spoken(entry, desk, is_chosen);
    let id = Id::unique(("structure", &entry.key));
    let mut is_seen = false;
    let size = vec2(width, PICTURE.1 + FOOT);
    let response = Pick::card(&spoken, is_chosen, size).id(id).show(ui, |ui| {
        is_seen = true;
        picture_ui(ui, entry, width - 20.0, is_chosen, desk, easel);
        known.foot_ui(ui, entry, desk, is_chosen);
    });
    if is_seen && known.own.is_none() {
        let own_key = entry.own_key.clone();
        let own = own_key.filter(|key| desk.solver.sample(key).is_none());
        let wanted = own.map(|key| (key, entry.moves.clone()));
        view.own_samples.extend(wanted);
    }
    if response.gained_focus() || view.brings == Some(id) {
        view.brings = None;
        response.scroll_to_me(None);
    }
    let response = tip(response, &entry.structure.remark);
    if response.clicked() && !is_chosen {
        let edit = Edit::Moves {
            structure: entry.name.clone(),
            moves: entry.moves.clone(),
        };
        view.picked = Some(edit.label());
        wants.push(Command::Edit(edit));
    }
    id
}

/// The solved cord, or what stands in its place.
fn picture_ui(
    ui: &mut Ui,
    entry: &Entry<'_>,
    width: f32,
    is_chosen: bool,
    desk: &Desk<'_>,
    easel: &mut Easel,
) {
    let (spot, _) = ui.allocate_exact_size(vec2(width, PICTURE.1), Sense::hover());
    let ground = ground(ui, is_chosen);
    match desk.solver.sample(&entry.key) {
        Some(Some(cord)) => {
            let threads = sample_threads(desk.design, &entry.name, &entry.moves);
            let order = order(ui, cord, threads, spot, ground);
            sample_picture(ui, &entry.key, order, spot, easel);
        }
        Some(None) => slides(ui, spot),
        None => dotted(ui, spot),
    }
}

/// What is known of a structure by now.
struct Known<'a> {
    facts: Option<&'a Facts>,
    /// Its plain sample.
    cord: Option<&'a Cord>,
    /// How firm that is, and per cent that it is longer under a weight.
    firmness: Option<(Firmness, f64)>,
    /// In the maker's own fibre: the design's cord where it has these moves.
    own: Option<&'a Cord>,
}

impl<'a> Known<'a> {
    fn of(entry: &Entry<'_>, desk: &Desk<'a>) -> Self {
        let solved = |key: &str| desk.solver.sample(key).and_then(|it| it.as_deref());
        let finding = desk.examiner.found_of_shelf(&entry.key);
        let is_chosen = desk.moves() == Some(&entry.moves);
        let design = desk
            .cord()
            .filter(|_| is_chosen && !desk.solver.shows_old());
        Self {
            facts: finding.and_then(|it| it.facts()),
            cord: solved(&entry.key).filter(|_| !desk.solver.is_rough(&entry.key)),
            firmness: desk.solver.firmness(&entry.key),
            own: design.or_else(|| entry.own_key.as_deref().and_then(solved)),
        }
    }

    /// Lay, firmness, bore: what the plain sample tells.
    fn build(&self, desk: &Desk<'_>) -> Vec<String> {
        let Some(cord) = self.cord else {
            return Vec::new();
        };
        let mut told = vec![lay(cord).to_owned()];
        if let Some((firmness, longer)) = self.firmness {
            told.push(format!("{} {longer:.1} %", firmness.word()));
        }
        if cord.figures.section == Section::Hollow {
            let bore = Estimate::exact(cord.figures.bore).length(desk.units());
            told.push(format!("bore {}", bore.figure));
        }
        told.retain(|words| !words.is_empty());
        told
    }

    /// The length of a repeat in the maker's own fibre, mm.
    fn repeat_mm(&self) -> Option<f64> {
        let facts = self.facts?;
        let moves = (facts.repeat * facts.moves) as f64;
        Some(10.0 * moves / self.own?.figures.moves_per_cm.value)
    }

    /// Rounds and length of a repeat, and moves for a length.
    fn pace(&self, desk: &Desk<'_>) -> Vec<String> {
        let mut told = Vec::new();
        if let Some(facts) = self.facts {
            let noun = if facts.repeat == 1 { "round" } else { "rounds" };
            let length = self.repeat_mm().map(|mm| words::length(mm, desk.units()));
            let length = length.map_or(String::new(), |length| format!(", {length}"));
            told.push(format!("{} {noun}{length}", facts.repeat));
        }
        if let Some(own) = self.own {
            let pace = own.figures.moves_per_cm.count_of_length(desk.units());
            told.push(pace.figure);
        }
        told
    }

    fn spoken(&self, entry: &Entry<'_>, desk: &Desk<'_>, is_chosen: bool) -> String {
        let mut words = vec![entry.name.clone()];
        words.push(format!("{} strands", entry.structure.strands()));
        if is_chosen {
            words.push("chosen".to_owned());
        }
        let trade = &entry.structure.trade_name;
        if !trade.is_empty() {
            words.push(format!("called {trade}"));
        }
        if !entry.whence.is_empty() {
            words.push(entry.whence.to_owned());
        }
        words.extend(self.facts.map(|facts| facts.verdict.name().to_owned()));
        words.extend(self.build(desk));
        words.extend(self.pace(desk));
        words.extend(
            self.facts
                .map(|it| format!("{} to remember", it.to_remember)),
        );
        words.join(", ")
    }

    /// Name and number of strands; what the trade calls it; what is known.
    fn foot_ui(&self, ui: &mut Ui, entry: &Entry<'_>, desk: &Desk<'_>, is_chosen: bool) {
        let face = if is_chosen {
            Face::Bold
        } else {
            Face::Semibold
        };
        let structure = &entry.structure;
        two_ends(
            ui,
            &structure.name,
            face,
            &structure.strands().to_string(),
            |ui| {
                self.verdict_mark(ui);
            },
        );
        let remember = self.facts.map_or(String::new(), |facts| {
            format!("{} to remember", facts.to_remember)
        });
        let words = [entry.whence, structure.trade_name.as_str(), &remember];
        let words = words.into_iter().filter(|it| !it.is_empty());
        let words = words.collect::<Vec<_>>().join(" · ");
        ui.spacing_mut().item_spacing.y = 1.0;
        let note = |ui: &mut Ui, words: String| {
            let text = Role::Note.text(ui, words).font(Face::Regular.at(12.5));
            ui.add(eframe::egui::Label::new(text).truncate());
        };
        note(ui, words);
        note(ui, self.build(desk).join(" · "));
        note(ui, self.pace(desk).join(" · "));
    }

    /// A check where it locks, a triangle where it does not.
    fn verdict_mark(&self, ui: &mut Ui) {
        let Some(facts) = self.facts else { return };
        let theme = Theme::of(ui);
        let (icon, colour) = if facts.verdict.locks() {
            (Icon::Check, theme.ok)
        } else {
            (Icon::Warn, theme.caution)
        };
        let (spot, _) = ui.allocate_exact_size(vec2(14.0, 14.0), Sense::hover());
        icon.paint(ui.painter(), spot.center(), 14.0, colour);
    }
}

/// A name that gives way, and what stands at the right end.
fn two_ends(ui: &mut Ui, name: &str, face: Face, end: &str, mark: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            mark(ui);
            Role::Note.label(ui, end);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = Role::Note.text(ui, name).font(face.at(13.0));
                let text = text.color(Theme::of(ui).ink);
                ui.add(eframe::egui::Label::new(text).truncate());
            });
        });
    });
}

/// The hand of the lay; the rows of a flat cord run to and fro.
fn lay(cord: &Cord) -> &'static str {
    match (cord.figures.section, cord.figures.hand) {
        (Section::Flat, _) => "",
        (_, Hand::S) => "S lay",
        (_, Hand::Z) => "Z lay",
        (_, Hand::None) => "no lay",
    }
}
