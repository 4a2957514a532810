//! Find: cords among short rules, searched for beside the window.
//!
//! A rule carries a strand past some of its neighbours, and those that lie alike
//! round the rim with it; the search takes all such rules of a few lifts. What is
//! found is solved and shown, the likest to one another side by side.

mod cards;
mod search;

use eframe::egui::{Align, Key, Label, Layout, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Button, chip, stepper};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::errand::Errand;
use crate::app::fonts::Role;
use crate::app::words;
use crate::cord::Section;
use crate::topology::Family;

use super::LookView;
use search::{Cord, Counts, News};

/// Most strands that a disc can be worked with.
const MOST_STRANDS: u16 = 32;
/// Most rules of a family that are searched; what is above takes hours.
const MOST_RULES: f64 = 100_000.0;

/// What is looked for, and what was found.
#[derive(Debug)]
pub struct FindView {
    strands: Option<u16>,
    fold: usize,
    carries: u16,
    wish: Wish,
    errand: Option<Errand<News>>,
    counts: Counts,
    found: Vec<Cord>,
    /// For which family these were found.
    family: Option<Family>,
    is_over: bool,
    /// The label of the edit that took one of them.
    taken: Option<String>,
    /// Whether it was drawn in this frame.
    is_seen: bool,
}

/// What a cord should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Wish {
    section: Option<Section>,
    is_springy: bool,
    is_balanced: bool,
    is_new: bool,
    /// At most so many things to remember.
    to_remember: u16,
}

impl Default for FindView {
    fn default() -> Self {
        Self {
            strands: None,
            fold: 2,
            carries: 1,
            wish: Wish {
                section: None,
                is_springy: false,
                is_balanced: false,
                is_new: false,
                to_remember: 12,
            },
            errand: None,
            counts: Counts::default(),
            found: Vec::new(),
            family: None,
            is_over: false,
            taken: None,
            is_seen: false,
        }
    }
}

impl FindView {
    /// After a frame: nobody looks any more, the search stops.
    pub(super) fn rest(&mut self) {
        if !std::mem::take(&mut self.is_seen) {
            self.stop();
        }
    }

    /// Stops a search that runs; what was found stays.
    fn stop(&mut self) {
        self.errand = None;
    }

    /// Whether a search runs.
    fn is_busy(&self) -> bool {
        self.errand.is_some()
    }

    fn listen(&mut self) {
        let news = self.errand.as_ref().map(Errand::heard);
        for news in news.into_iter().flatten() {
            match news {
                News::Counts(counts) => self.counts = counts,
                News::Cord(cord) => self.found.push(*cord),
                News::End => {
                    self.is_over = true;
                    self.errand = None;
                }
            }
        }
    }

    fn begin(&mut self, family: Family, ui: &Ui, desk: &Desk<'_>) {
        let slots = desk.moves().map_or(32, |moves| moves.slots);
        self.counts = Counts::default();
        self.found.clear();
        self.is_over = false;
        self.family = Some(family);
        self.errand = Some(search::send(ui.ctx(), family, slots, desk.own));
    }
}

/// The form, how far the search is, and what was found.
pub(super) fn find_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    view.find.is_seen = true;
    view.find.listen();
    let family = form_ui(ui, desk, &mut view.find);
    wish_ui(ui, &mut view.find.wish);
    start_ui(ui, family, desk, &mut view.find);
    progress_ui(ui, &view.find);
    cards::cards_ui(ui, desk, view, easel, wants);
    take_back(ui, desk, &mut view.find, wants);
}

/// Strands, how many go alike, and lifts of a rule.
fn form_ui(ui: &mut Ui, desk: &Desk<'_>, find: &mut FindView) -> Family {
    let own = u16::try_from(desk.design.strands.len()).unwrap_or(MOST_STRANDS);
    let mut strands = find.strands.unwrap_or(own).clamp(3, MOST_STRANDS);
    line(ui, "strands", |ui| {
        if stepper(ui, "strands to search", &mut strands, 3..=MOST_STRANDS) {
            find.strands = Some(strands);
        }
    });
    let count = usize::from(strands);
    let folds: Vec<usize> = (1..=4).filter(|fold| count.is_multiple_of(*fold)).collect();
    if !folds.contains(&find.fold) {
        find.fold = 1;
    }
    row(ui, "carried alike", |ui| {
        for &fold in &folds {
            let words = ["one", "two", "three", "four"][fold - 1];
            if chip(ui, words, find.fold == fold).clicked() {
                find.fold = fold;
            }
        }
    });
    line(ui, "lifts of a block", |ui| {
        stepper(ui, "lifts of a block", &mut find.carries, 1..=3);
    });
    Family {
        strands: count,
        fold: find.fold,
        carries: usize::from(find.carries),
    }
}

fn row(ui: &mut Ui, words: &str, content: impl FnOnce(&mut Ui)) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        Role::Label.label(ui, words);
        content(ui);
    });
}

/// A label with what it is about at the right end.
fn line(ui: &mut Ui, words: &str, content: impl FnOnce(&mut Ui)) {
    let (size, left) = (
        vec2(ui.available_width(), 34.0),
        Layout::left_to_right(Align::Center),
    );
    ui.allocate_ui_with_layout(size, left, |ui| {
        Role::Label.label(ui, words);
        ui.with_layout(Layout::right_to_left(Align::Center), content);
    });
}

/// What it should be: shown are the cords that are.
fn wish_ui(ui: &mut Ui, wish: &mut Wish) {
    ui.add_space(4.0);
    row(ui, "shown if", |ui| {
        for section in Section::ALL {
            let on = wish.section == Some(section);
            if chip(ui, section.word(), on).clicked() {
                wish.section = (!on).then_some(section);
            }
        }
        wish.is_springy ^= chip(ui, "springy first", wish.is_springy).clicked();
        wish.is_balanced ^= chip(ui, "balanced", wish.is_balanced).clicked();
        wish.is_new ^= chip(ui, "only new", wish.is_new).clicked();
    });
    line(ui, "to remember, at most", |ui| {
        stepper(ui, "things to remember", &mut wish.to_remember, 1..=64);
    });
}

/// Rules of a family, for the size of a search.
fn rules(family: Family) -> f64 {
    let pasts = family.strands as f64 - 2.0;
    let alike = (family.strands / family.fold) as f64;
    let carries = family.carries as i32;
    pasts.powi(carries) * alike.powi(carries - 1) * alike
}

fn start_ui(ui: &mut Ui, family: Family, desk: &Desk<'_>, find: &mut FindView) {
    ui.add_space(4.0);
    let width = ui.available_width();
    if find.is_busy() {
        if ui
            .add(Button::plain("Stop the search").width(width))
            .clicked()
        {
            find.stop();
        }
        return;
    }
    let count = rules(family);
    let too_many = format!("{count:.0} lists are too many: fewer strands or fewer lifts");
    let hindrance = (count > MOST_RULES).then_some(too_many.as_str());
    let words = format!("Search {count:.0} lists");
    let button = Button::main(&words).off_because(hindrance).width(width);
    if ui.add(button).clicked() {
        find.begin(family, ui, desk);
    }
    if let Some(hindrance) = hindrance {
        note(ui, hindrance);
    }
}

fn progress_ui(ui: &mut Ui, find: &FindView) {
    let Some(family) = find.family else {
        return note(
            ui,
            "Every list of so few lifts is looked at; those that hold together are compared with \
             both shelves, in the mirror and begun anywhere.",
        );
    };
    let Counts {
        tried,
        sound,
        different,
        new,
    } = find.counts;
    note(
        ui,
        &format!("{tried} lists tried, {sound} sound, {different} different, {new} new"),
    );
    let strands = words::count(family.strands);
    match (find.is_busy(), find.is_over) {
        (true, _) => {}
        (false, true) if different == 0 => {
            note(
                ui,
                &format!("No cord of {strands} strands is made so. Try more lifts."),
            );
        }
        (false, true) => note(ui, &format!("All of {strands} strands looked at.")),
        (false, false) => note(ui, "Stopped before the end."),
    }
}

fn note(ui: &mut Ui, words: &str) {
    let text = Role::Note.text(ui, words);
    ui.add(Label::new(text).wrap());
}

/// Esc leaves the structure that was there before one was taken.
fn take_back(ui: &Ui, desk: &Desk<'_>, find: &mut FindView, wants: &mut Vec<Command>) {
    let is_free = ui.memory(|memory| memory.focused().is_none());
    if !is_free || !ui.input(|input| input.key_pressed(Key::Escape)) {
        return;
    }
    if find
        .taken
        .take()
        .is_some_and(|label| desk.undo == Some(label.as_str()))
    {
        wants.push(Command::Undo);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_family_is_counted_as_it_is_searched() {
        for (strands, fold, carries) in [(8, 2, 1), (8, 2, 2), (12, 4, 1), (7, 1, 2)] {
            let family = Family {
                strands,
                fold,
                carries,
            };
            let count = family.patterns().count() as f64;
            assert!((rules(family) - count).abs() < 0.5, "{family:?}");
        }
    }
}
