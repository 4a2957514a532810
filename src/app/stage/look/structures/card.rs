//! The card of one structure: its solved picture, its name, and what is known
//! of it.

use std::hash::{DefaultHasher, Hash, Hasher};

use eframe::egui::{Align, Layout, Sense, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Pick, tip};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::examiner::Facts;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::solver::Solved;
use crate::app::theme::Theme;
use crate::cord::{Cord, Hand, Section};
use crate::document::{Design, Edit};
use crate::quantity::Estimate;

use super::super::LookView;
use super::Entry;
use super::sample::{dotted, ground, order, sample_picture, sample_threads, slides};

/// Size of a sample picture at its least, points.
const PICTURE: (f32, f32) = (200.0, 40.0);
/// Its width.
pub(super) const PICTURE_WIDTH: f32 = PICTURE.0;
/// Room for the words under the picture.
const FOOT: f32 = 82.0;
/// Most strands for which moves a centimetre are worked out in the maker's own
/// fibre: more take too long for a list (tried).
const QUICK: usize = 16;

/// Draws the card; only what is in sight is painted.
pub(super) fn card_ui(
    ui: &mut Ui,
    entry: &Entry<'_>,
    width: f32,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let Entry {
        structure,
        name,
        moves,
        key,
    } = entry;
    let is_chosen = desk.moves() == Some(moves);
    let sample = desk.solver.sample(key);
    let known = Known {
        facts: desk.examiner.found_of_shelf(key).and_then(|it| it.facts()),
        cord: sample.and_then(|it| it.as_deref()),
        lay: if is_chosen { lay(desk) } else { "" },
        pace: pace(desk, entry, view),
    };
    let spoken = known.spoken(entry, desk, is_chosen);
    let size = vec2(width, PICTURE.1 + FOOT);
    let response = Pick::card(&spoken, is_chosen, size).show(ui, |ui| {
        let (spot, _) = ui.allocate_exact_size(vec2(width - 20.0, PICTURE.1), Sense::hover());
        let ground = ground(ui, is_chosen);
        match sample {
            Some(Some(cord)) => {
                let threads = sample_threads(desk.design, name, moves);
                let order = order(ui, cord, threads, spot, ground);
                sample_picture(ui, key, order, spot, easel);
            }
            Some(None) => slides(ui, spot),
            None => dotted(ui, spot),
        }
        known.foot_ui(ui, entry, desk, is_chosen);
    });
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    let response = tip(response, &structure.remark);
    if response.clicked() && !is_chosen {
        wants.push(Command::Edit(Edit::Moves {
            structure: name.clone(),
            moves: moves.clone(),
        }));
    }
}

/// What is known of a structure by now.
struct Known<'a> {
    facts: Option<&'a Facts>,
    cord: Option<&'a Cord>,
    lay: &'static str,
    /// Moves for a length of cord in the maker's own fibre.
    pace: Option<Estimate>,
}

impl Known<'_> {
    /// Rounds, pace, bore: as far as each is known.
    fn told(&self, desk: &Desk<'_>) -> Vec<String> {
        let mut told = Vec::new();
        if !self.lay.is_empty() {
            told.push(self.lay.to_owned());
        }
        if let Some(facts) = self.facts {
            let noun = if facts.repeat == 1 { "round" } else { "rounds" };
            told.push(format!("{} {noun}", facts.repeat));
        }
        if let Some(pace) = self.pace {
            told.push(pace.count_of_length(desk.units()).figure);
        }
        if let Some(cord) = self.cord.filter(|it| it.figures.section == Section::Hollow) {
            let bore = Estimate::exact(cord.figures.bore).length(desk.units());
            told.push(format!("bore {}", bore.figure));
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
        words.extend(self.facts.map(|facts| facts.verdict.name().to_owned()));
        words.extend(self.told(desk));
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
        let structure = entry.structure;
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
        let words = [structure.trade_name.as_str(), &remember];
        let words = words.into_iter().filter(|it| !it.is_empty());
        let words = words.collect::<Vec<_>>().join(" · ");
        ui.spacing_mut().item_spacing.y = 1.0;
        let note = |ui: &mut Ui, words: String| {
            let text = Role::Note.text(ui, words).font(Face::Regular.at(12.5));
            ui.add(eframe::egui::Label::new(text).truncate());
        };
        note(ui, words);
        note(ui, self.told(desk).join(" · "));
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

/// Moves for a length in the maker's own fibre, once solved; asked for where
/// that is quick.
fn pace(desk: &Desk<'_>, entry: &Entry<'_>, view: &mut LookView) -> Option<Estimate> {
    if entry.structure.strands() > QUICK {
        return None;
    }
    let key = format!("{} of {:x}", entry.key, make(desk.design)?);
    match desk.solver.sample(&key) {
        Some(cord) => cord.as_ref().map(|cord| cord.figures.moves_per_cm),
        None => {
            view.own_samples.push((key, entry.moves.clone()));
            None
        }
    }
}

/// Tells apart what the first strand is made of and how it is braided.
fn make(design: &Design) -> Option<u64> {
    let body = design.strands.first()?.body(&design.fibres).ok()?;
    let mut hasher = DefaultHasher::new();
    format!("{body:?} {:?}", design.braiding).hash(&mut hasher);
    Some(hasher.finish())
}

/// The lay of the design's own cord once its last, fine solve is done; the
/// samples are too coarse, and of another fibre, to tell.
fn lay(desk: &Desk<'_>) -> &'static str {
    let Solved::Done { cord, last: true } = desk.solver.solved() else {
        return "";
    };
    match cord.figures.hand {
        Hand::S => "S lay",
        Hand::Z => "Z lay",
        Hand::None => "",
    }
}
