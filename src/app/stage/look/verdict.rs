//! One calm line beside the disc: whether the moves hold, and why not.
//!
//! A sound cord says it quietly. One that does not hold says what kind it is;
//! a list at fault says the fault, shows its step and offers what would mend
//! it, each a change that can be taken back.

use std::sync::Arc;

use eframe::egui::{
    Color32, Galley, Popup, PopupCloseBehavior, Rect, Response, Sense, Stroke, StrokeKind, Ui,
    UiBuilder, WidgetInfo, pos2, vec2,
};

use crate::app::command::Command;
use crate::app::controls::{IconButton, keyboard_leads, link};
use crate::app::desk::Desk;
use crate::app::examiner::{FoundFault, Outcome};
use crate::app::flags::Flags;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::document::{Edit, strand_name};
use crate::structure::{Fault, MoveList, Repair};
use crate::topology::Verdict;

use super::LookView;
use super::recording::Recording;

/// Where the words begin, right of the icon.
const LEFT: f32 = 30.0;
/// Height of the row of links under the words.
const LINKS: f32 = 28.0;
/// Room for the line while moves are recorded, whatever it says: the disc must
/// stay where it is between two drags.
const WHILE_RECORDING: f32 = 92.0;
/// What the maker may rest assured of while the list is at fault.
const KEPT: &str = "The design is kept as it is; the strip shows the last good cord.";

/// How the line is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Voice {
    /// It holds, or is still being made or looked at.
    Quiet(Icon),
    /// It does not hold.
    Caution,
    /// It cannot be worked.
    Stop,
}

/// The line, measured for its room.
#[derive(Debug)]
pub(super) struct Said {
    voice: Voice,
    records: bool,
    words: String,
    head: Arc<Galley>,
    note: Option<Arc<Galley>>,
    repairs: Vec<Repair>,
    first_repair: Option<Arc<Galley>>,
    /// Moves before the step of the fault.
    before: Option<(usize, usize)>,
    faults: usize,
}

/// What is to be said, not yet measured.
struct Words {
    voice: Voice,
    head: String,
    note: &'static str,
}

impl Said {
    /// Measures what is to be said for a room of this width.
    pub(super) fn of(ui: &Ui, desk: &Desk<'_>, view: &LookView, width: f32) -> Self {
        let theme = Theme::of(ui);
        let records = view.records();
        let words = words(desk, records, view.fault);
        let painter = ui.painter();
        let layout =
            |text: &str, face, colour| painter.layout(text.to_owned(), face, colour, width - LEFT);
        let (face, colour) = match words.voice {
            Voice::Quiet(_) => (Role::Note.font(), theme.ink2),
            Voice::Caution => (Face::Semibold.at(14.0), theme.caution),
            Voice::Stop => (Face::Semibold.at(14.0), theme.stop),
        };
        let found = shown_fault(desk, view.fault);
        let repairs = found.map_or(Vec::new(), |found| found.repairs.clone());
        let first_repair = repairs.first().map(|repair| {
            let words = repair.sentence(desk.numbering());
            painter.layout(words, Role::Button.font(), theme.ink, width - LEFT - 28.0)
        });
        let note =
            (!words.note.is_empty()).then(|| layout(words.note, Role::Note.font(), theme.ink2));
        Self {
            voice: words.voice,
            records,
            head: layout(&words.head, face, colour),
            words: words.head,
            note,
            repairs,
            first_repair,
            before: desk
                .examiner
                .found()
                .zip(found)
                .filter(|_| !records)
                .and_then(|(finding, found)| step_of(&finding.moves, &found.error.fault)),
            faults: desk.examiner.found().map_or(0, |it| it.faults().len()),
        }
    }

    /// The room it needs taken off the top, and what is left under it.
    pub(super) fn beside(&self, rect: Rect) -> (Rect, Rect) {
        let split = rect.top() + self.height();
        (rect.with_min_y(split + 4.0), rect.with_max_y(split))
    }

    fn height(&self) -> f32 {
        let least = if self.records { WHILE_RECORDING } else { 26.0 };
        let note = self.note.as_ref().map_or(0.0, |it| it.size().y + 2.0);
        let repair = self
            .first_repair
            .as_ref()
            .map_or(0.0, |it| it.size().y + 18.0);
        let links = if self.has_links() { LINKS } else { 0.0 };
        (self.head.size().y.max(18.0) + 6.0 + note + repair + links).max(least)
    }

    fn has_links(&self) -> bool {
        self.voice == Voice::Stop || self.note.is_some()
    }

    /// Draws it and takes up what is pressed.
    pub(super) fn show(
        self,
        ui: &mut Ui,
        rect: Rect,
        desk: &Desk<'_>,
        view: &mut LookView,
        wants: &mut Vec<Command>,
    ) {
        let theme = Theme::of(ui);
        let (icon, colour) = match self.voice {
            Voice::Quiet(icon) => (icon, theme.ink2),
            Voice::Caution => (Icon::Warn, theme.caution),
            Voice::Stop => (Icon::Broken, theme.stop),
        };
        let top = rect.top() + 3.0;
        icon.paint(
            ui.painter(),
            pos2(rect.left() + 12.0, top + 9.0),
            18.0,
            colour,
        );
        let mut y = top;
        let spoken = match &self.note {
            Some(note) => format!("{} {}", self.words, note.text()),
            None => self.words.clone(),
        };
        for galley in std::iter::once(&self.head).chain(&self.note) {
            ui.painter()
                .galley(pos2(rect.left() + LEFT, y), Arc::clone(galley), theme.ink);
            y += galley.size().y + 2.0;
        }
        let lines = Rect::from_min_max(rect.min, pos2(rect.right(), y));
        let id = ui.scope_id().with("verdict");
        let response = ui.interact(lines, id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Label, true, &spoken));
        let rest = Rect::from_min_max(pos2(rect.left() + LEFT, y + 2.0), rect.max);
        let builder = UiBuilder::new().max_rect(rest).id_salt("verdict");
        ui.scope_builder(builder, |ui| {
            ui.spacing_mut().item_spacing = vec2(12.0, 2.0);
            self.repairs_ui(ui, desk, view, wants);
            if self.has_links() {
                ui.horizontal(|ui| self.links_ui(ui, desk, view, wants));
            }
        });
    }

    fn repairs_ui(
        &self,
        ui: &mut Ui,
        desk: &Desk<'_>,
        view: &mut LookView,
        wants: &mut Vec<Command>,
    ) {
        if let (Some(repair), Some(galley)) = (self.repairs.first(), &self.first_repair)
            && repair_button(ui, Arc::clone(galley)).clicked()
        {
            mend(repair, desk, view, wants);
        }
    }

    /// More repairs, the fault's step, the next fault, and back to before.
    fn links_ui(
        &self,
        ui: &mut Ui,
        desk: &Desk<'_>,
        view: &mut LookView,
        wants: &mut Vec<Command>,
    ) {
        if self.repairs.len() > 1 {
            self.more_ui(ui, desk, view, wants);
        }
        if let Some((step, before)) = self.before
            && link(ui, &format!("show step {step}")).clicked()
        {
            view.play.go_to(before);
        }
        if view.recording.is_none() && desk.undo.is_some() && link(ui, "take it back").clicked() {
            wants.push(Command::Undo);
        }
        if self.faults > 1 {
            let at = view.fault.min(self.faults - 1);
            let words = format!("Next fault, this is {} of {}", at + 1, self.faults);
            if ui
                .add(IconButton::new(Icon::Right, &words).small())
                .clicked()
            {
                view.fault = (at + 1) % self.faults;
            }
            Role::Note.label(ui, format!("{} of {}", at + 1, self.faults));
        }
    }

    fn more_ui(&self, ui: &mut Ui, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
        let rest = &self.repairs[1..];
        let opener = link(
            ui,
            &format!("{} more", crate::app::words::count(rest.len())),
        );
        Popup::from_toggle_button_response(&opener)
            .close_behavior(PopupCloseBehavior::CloseOnClick)
            .accessible_name("Other repairs")
            .show(|ui| {
                ui.set_width(360.0);
                for repair in rest {
                    let font = Role::Button.font();
                    let words = repair.sentence(desk.numbering());
                    let galley = ui.painter().layout(words, font, Theme::of(ui).ink, 330.0);
                    if repair_button(ui, galley).clicked() {
                        mend(repair, desk, view, wants);
                    }
                }
            });
    }
}

/// The changed list becomes the design's, or the one being recorded.
fn mend(repair: &Repair, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    if view.recording.is_some() {
        view.recording = Some(Recording::with(repair.list.clone()));
        return;
    }
    view.play.rewind();
    wants.push(Command::Edit(Edit::Moves {
        structure: desk
            .section()
            .map_or(String::new(), |it| it.structure.clone()),
        moves: repair.list.clone(),
    }));
}

/// A button whose words may take two lines.
fn repair_button(ui: &mut Ui, galley: Arc<Galley>) -> Response {
    let size = galley.size() + vec2(28.0, 12.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let words = galley.text().to_owned();
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Button, true, &words));
    let theme = Theme::of(ui);
    let (fill, edge) = match (response.is_pointer_button_down_on(), response.hovered()) {
        (true, _) => (theme.deep, theme.ink),
        (false, true) => (theme.well, theme.ink),
        (false, false) => (theme.paper, theme.line2),
    };
    let radius = 0.5 * rect.height().min(34.0);
    let painter = ui.painter();
    painter.rect(
        rect,
        radius,
        fill,
        Stroke::new(1.0, edge),
        StrokeKind::Inside,
    );
    painter.galley(rect.min + vec2(14.0, 6.0), galley, Color32::PLACEHOLDER);
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, rect, radius, &theme);
    }
    response
}

/// What the line says.
fn words(desk: &Desk<'_>, records: bool, fault: usize) -> Words {
    let quiet = |icon, head: &str| Words {
        voice: Voice::Quiet(icon),
        head: head.to_owned(),
        note: "",
    };
    let is_late = desk.examiner.patience_left().is_none();
    let finding = match (desk.examiner.found(), desk.examiner.last()) {
        (Some(found), _) => found,
        (None, Some(last)) if !is_late => last,
        _ => return quiet(Icon::Lens, "Whether it holds is being looked at"),
    };
    match &finding.outcome {
        Outcome::Unknown => quiet(Icon::Info, "It could not be told whether it holds"),
        Outcome::Braid(facts) if facts.verdict.locks() => {
            quiet(Icon::Check, &facts.verdict.sentence_naming(&strand_name))
        }
        Outcome::Braid(facts) => Words {
            voice: Voice::Caution,
            head: unsound(&facts.verdict),
            note: if records || desk.solver.solved().error().is_none() {
                ""
            } else {
                KEPT
            },
        },
        Outcome::AtFault(faults) => {
            let Some(found) = faults.get(fault).or(faults.first()) else {
                return quiet(Icon::Info, "");
            };
            let error = &found.error;
            match error.fault {
                Fault::NoMoves if records => {
                    quiet(Icon::Hand, "Drag strands to slots: each drag is a move")
                }
                Fault::NotBack { .. } if records => {
                    let sentence = error.sentence(desk.numbering());
                    quiet(Icon::Info, &format!("Not round yet. {}", ended(&sentence)))
                }
                _ => Words {
                    voice: Voice::Stop,
                    head: ended(&error.sentence(desk.numbering())),
                    note: if records { "" } else { KEPT },
                },
            }
        }
    }
}

/// The sentence of a cord that does not hold, the kind first.
fn unsound(verdict: &Verdict) -> String {
    let sentence = verdict.sentence_naming(&strand_name);
    let name = verdict.name();
    let (first, rest) = name.split_at(1);
    format!("{}{rest}. {sentence}", first.to_uppercase())
}

/// With a capital and a full stop.
fn ended(sentence: &str) -> String {
    let mut letters = sentence.trim_end_matches('.').chars();
    let first = letters.next().map(|first| first.to_uppercase());
    let mut ended: String = first.into_iter().flatten().chain(letters).collect();
    ended.push('.');
    ended
}

fn shown_fault<'a>(desk: &Desk<'a>, nth: usize) -> Option<&'a FoundFault> {
    let faults = desk.examiner.found()?.faults();
    faults.get(nth).or(faults.first())
}

/// The step of a fault and the moves made before it, through the rounds.
fn step_of(list: &MoveList, fault: &Fault) -> Option<(usize, usize)> {
    let step = fault.step()?;
    let steps = list.steps.len();
    let rounds = (step - 1).checked_div(steps)?;
    let round: usize = list.steps.iter().map(|it| it.moves.len()).sum();
    let into = &list.steps[..(step - 1) % steps];
    let before: usize = into.iter().map(|it| it.moves.len()).sum();
    Some((step, rounds * round + before))
}

/// The moves before each fault that has a step.
pub(super) fn fault_places(desk: &Desk<'_>) -> Vec<usize> {
    let Some(finding) = desk.examiner.found() else {
        return Vec::new();
    };
    let places = finding.faults().iter();
    places
        .filter_map(|found| step_of(&finding.moves, &found.error.fault))
        .map(|(_, before)| before)
        .collect()
}

/// What is marked on disc and strip; nothing while moves are under way that
/// only have not come round.
pub fn flags(desk: &Desk<'_>, view: &LookView) -> Flags {
    let Some(finding) = desk.examiner.found() else {
        return Flags::default();
    };
    let fault = shown_fault(desk, view.fault).map(|found| &found.error.fault);
    let is_under_way = matches!(fault, Some(Fault::NotBack { .. } | Fault::NoMoves));
    if view.records() && is_under_way {
        return Flags::default();
    }
    Flags::of(finding, view.fault)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::Outside;

    #[test]
    fn the_moves_before_a_step_are_counted_through_the_rounds() {
        let list: MoveList = "slots 32\nstart 1 9 17\n1 > 2\n9 > 10 & 17 > 18\n2 > 1"
            .parse()
            .unwrap();
        let empty = |step| Fault::Empty {
            step,
            place: crate::structure::Place::slot(1),
        };
        assert_eq!(step_of(&list, &empty(1)), Some((1, 0)));
        assert_eq!(step_of(&list, &empty(3)), Some((3, 3)));
        assert_eq!(step_of(&list, &empty(5)), Some((5, 5)), "the second round");
        assert_eq!(step_of(&list, &Fault::NoMoves), None);
    }

    #[test]
    fn what_does_not_hold_is_called_by_its_kind_and_its_letters() {
        let said = unsound(&Verdict::StrandOutside {
            strand: 2,
            how: Outside::NotHeld,
        });
        assert!(said.starts_with("Strand outside. Strand C "), "{said}");
        assert_eq!(ended("step 2 lifts"), "Step 2 lifts.");
    }
}
