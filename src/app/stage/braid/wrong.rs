//! Something looks wrong: the maker makes the drawn disc look like hers, says what the
//! cord looks like, and is told what explains it, how likely that is and the way back.
//!
//! The answers are found beside the window (`asking`) and are those of [`explain`]; this
//! folder marks, shows, and hands back entries of the story. What is marked stays while
//! another panel is shown, until the place is another one.
//!
//! [`explain`]: crate::bench::lost::explain

mod answer;
mod asking;
mod bar;
mod going_on;
mod likelihood;
mod marks;
mod question;
mod signs;
mod spot;
mod way;

use std::collections::BTreeSet;

use eframe::egui::{Frame, Margin, Rect, Sense, Ui, WidgetInfo, accesskit, vec2};

use super::work::{Ask, Work};
use crate::app::controls::{Notice, Tone, hairline};
use crate::app::desk::Desk;
use crate::app::disc::DiscMemory;
use crate::app::easel::Easel;
use crate::app::fonts::{Face, Role};
use crate::bench::lost::Explanation;
use crate::bench::{Lying, Sign, Way, Why};
use crate::structure::Place;
use asking::Asking;
use marks::Marks;

pub(super) use way::steps_ui;

/// Explanations that are shown.
const MOST: usize = 5;
/// Less likely ones are left out, unless nothing else is there.
const LEAST: f64 = 0.005;

/// What is marked, and what was answered.
#[derive(Debug, Default)]
pub(super) struct Wrong {
    /// What lay there and how far the work was when it was begun.
    of: Option<(Lying, u64)>,
    marks: Option<Marks>,
    /// Whether there is no room for the marks under the disc.
    is_low: bool,
    /// The slot that is being marked.
    slot: Option<Place>,
    signs: BTreeSet<Sign>,
    asking: Asking,
    /// The explanation that is looked at, counted from 0.
    looked_at: usize,
    disc: DiscMemory,
}

impl Wrong {
    /// Begins where the work stands, unless it is begun there already; the answers are
    /// asked for.
    fn follow(&mut self, ui: &Ui, work: &Work<'_>) {
        let now = (work.lying(), work.done);
        if self.of.as_ref() != Some(&now) {
            let slots = work.braid.slots();
            let marks = Marks::of(&now.0, &work.looks.of, slots);
            *self = Self {
                marks: Some(marks),
                of: Some(now),
                is_low: self.is_low,
                disc: std::mem::take(&mut self.disc),
                ..Self::default()
            };
        }
        let Some(marks) = &self.marks else { return };
        match marks.objection(&work.looks.names) {
            None => {
                if self.asking.follow(ui, work, marks.seen(&self.signs)) {
                    self.looked_at = 0;
                }
            }
            Some(_) => self.asking.rest(),
        }
    }

    /// The disc has the keyboard when it comes.
    pub(super) fn comes(&mut self) {
        self.disc.take_keyboard();
    }

    fn objection(&self, work: &Work<'_>) -> Option<String> {
        self.marks.as_ref()?.objection(&work.looks.names)
    }

    /// Whether nothing was marked yet.
    fn is_untouched(&self) -> bool {
        let differs = |marks: &Marks| !marks.differing().is_empty();
        !self.marks.as_ref().is_some_and(differs) && self.signs.is_empty()
    }
}

/// The disc to be marked, in place of the one that shows the next move; with patterns
/// besides colours or not.
pub(super) fn wrong_disc(ui: &mut Ui, work: &Work<'_>, marked: bool, wrong: &mut Wrong) {
    wrong.follow(ui, work);
    spot::spot_ui(ui, ui.max_rect(), work, wrong, marked);
}

/// What stands beside it.
pub(super) fn wrong_panel(
    ui: &mut Ui,
    work: &Work<'_>,
    desk: &Desk<'_>,
    wrong: &mut Wrong,
    easel: &mut Easel,
    asks: &mut Vec<Ask>,
) {
    if let Some(sentence) = hindrance(work) {
        Role::Text.label(ui, sentence);
        return;
    }
    wrong.follow(ui, work);
    Role::Text.label(
        ui,
        "Make the disc look like yours, and say where you cannot tell.",
    );
    if wrong.is_low {
        ui.scope(|ui| spot::marks_ui(ui, work, wrong));
    }
    ui.add_space(6.0);
    Role::Label.label(ui, "and the cord, just below the hole, has");
    ui.add_space(2.0);
    signs::signs_ui(ui, &mut wrong.signs);
    ui.add_space(6.0);
    hairline(ui);
    match wrong.objection(work) {
        Some(sentence) => objection_ui(ui, &sentence),
        None => answers_ui(ui, work, desk, wrong, easel, asks),
    }
}

/// Why there is nothing to compare, one sentence.
pub(super) fn hindrance(work: &Work<'_>) -> Option<&'static str> {
    if work.course.finished {
        return Some("This cord is off the disc: nothing lies there any more.");
    }
    let mends = |way: &Way| matches!(way.why, Why::Mistake(_));
    let way = work.course.way.as_ref();
    if way.is_some_and(|(way, made)| *made > 0 && mends(way)) {
        return Some("You are on a way back: go it to its end, then compare what lies there.");
    }
    let dressing = "The disc is being dressed: it can be compared once all strands lie there.";
    (!work.course.is_dressed()).then_some(dressing)
}

fn objection_ui(ui: &mut Ui, sentence: &str) {
    Notice {
        tone: Tone::Caution,
        happened: sentence,
        kept: "What you marked stays.",
        advice: "",
    }
    .show(ui);
}

fn answers_ui(
    ui: &mut Ui,
    work: &Work<'_>,
    desk: &Desk<'_>,
    wrong: &mut Wrong,
    easel: &mut Easel,
    asks: &mut Vec<Ask>,
) {
    state_ui(ui, &wrong.asking);
    if question::question_ui(ui, work, &mut wrong.asking) {
        wrong.looked_at = 0;
    }
    let is_fresh = wrong.asking.is_fresh();
    let Some(diagnosis) = wrong.asking.diagnosis() else {
        return;
    };
    let likely = |it: &&Explanation| it.probability >= LEAST;
    let shown = diagnosis.explanations.iter().filter(likely).take(MOST);
    let shown: Vec<&Explanation> = shown.collect();
    let looked_at = wrong.looked_at.min(shown.len().saturating_sub(1));
    let mut pressed = None;
    let verdict = verdict(&shown, diagnosis.other, wrong.is_untouched());
    verdict_ui(ui, verdict, shown.first().copied(), work);
    for (place, found) in shown.iter().enumerate() {
        if answer::answer_ui(ui, place, found, place == looked_at, work) {
            pressed = Some(place);
        }
        if place == looked_at {
            inset(ui, |ui| {
                // The way back from what was marked before would lead astray.
                if !is_fresh {
                    ui.disable();
                }
                way::way_ui(ui, work, found, asks);
                if let Some(going_on) = &found.going_on {
                    going_on::going_on_ui(ui, work, going_on, desk, easel, asks);
                }
            });
            ui.add_space(8.0);
        }
    }
    none_ui(ui, diagnosis.other);
    if let Some(place) = pressed {
        wrong.looked_at = place;
    }
}

/// Whether the answers are still being looked for.
fn state_ui(ui: &mut Ui, asking: &Asking) {
    if asking.is_fresh() {
        return;
    }
    let words = match asking.diagnosis() {
        Some(_) => "Looking again\u{2026} these are the answers to what was marked before.",
        None => "Looking\u{2026}",
    };
    Role::Note.label(ui, words);
}

/// A little in from the row that it belongs to.
fn inset(ui: &mut Ui, content: impl FnOnce(&mut Ui)) {
    let margin = Margin {
        left: 12,
        ..Margin::ZERO
    };
    Frame::new().inner_margin(margin).show(ui, content);
}

/// What all the answers together say.
fn verdict(shown: &[&Explanation], other: f64, untouched: bool) -> &'static str {
    let best = shown.first().map_or(0.0, |it| it.probability);
    if untouched {
        "Nothing is marked yet: if yours lies just like this,"
    } else if other > best {
        "No mistake of the last moves explains this well."
    } else if best < 0.5 {
        "It cannot be told from this alone. It may be that"
    } else {
        "Most likely"
    }
}

/// The verdict as a line; a reader hears it with the first answer whenever they change.
fn verdict_ui(ui: &mut Ui, verdict: &str, first: Option<&Explanation>, work: &Work<'_>) {
    let text = Role::Text.text(ui, verdict);
    let response = ui.label(text.font(Face::Italic.at(19.0)));
    let spoken = first.map_or_else(String::new, |found| answer::told(found, work));
    let id = response.id.with("spoken");
    let corner = Rect::from_min_size(response.rect.min, vec2(1.0, 1.0));
    let live = ui.interact(corner, id, Sense::empty());
    let words = format!("{verdict}: {spoken}");
    live.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Label, true, &words));
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_live(accesskit::Live::Polite);
    });
    ui.add_space(2.0);
}

/// How likely it is that something else happened.
fn none_ui(ui: &mut Ui, other: f64) {
    ui.add_space(4.0);
    let words = format!("none of these: {}", likelihood::figure(other));
    Role::Text.label(ui, words);
    if other >= 0.1 {
        Role::Note.label(
            ui,
            "Mark more where you can tell, or take moves back to a look that is right: Undoing does it picture by picture.",
        );
    }
}
