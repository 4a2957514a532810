//! Another structure beside this one: how it differs, and how to go on with it.
//!
//! The braids are compared, not the lists; where one can follow the other is
//! found by what it takes back. Both are looked into on a thread of their own.

use eframe::egui::{Align2, ComboBox, Label, Sense, Stroke, Ui, WidgetInfo, vec2};

use crate::app::controls::tip;
use crate::app::desk::Desk;
use crate::app::errand::Errand;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::app::words;
use crate::structure::{Braid, MoveList, Structure, shelf, slides};
use crate::topology::{Comparison, Joint, Round, compare, joints};

/// What is looked at, and what was found.
#[derive(Debug, Default)]
pub(super) struct BesideView {
    /// The other one, by its name.
    other: Option<String>,
    asked: Option<(MoveList, MoveList)>,
    errand: Option<Errand<Found>>,
    found: Option<Found>,
}

/// How two structures stand to one another.
#[derive(Debug)]
struct Found {
    comparison: Comparison,
    joints: Vec<Joint>,
    /// Strands to slide for each beginning.
    slides: Vec<Option<usize>>,
}

impl BesideView {
    /// Looks into two lists, unless they are looked into already.
    fn ask(&mut self, ui: &Ui, list: &MoveList, other: &MoveList) {
        let asked = Some((list.clone(), other.clone()));
        if self.asked != asked {
            self.asked = asked;
            self.found = None;
            self.errand = look_into(ui, list, other);
        }
        if let Some(errand) = &self.errand {
            self.found = errand.heard().pop().or(self.found.take());
        }
    }
}

fn look_into(ui: &Ui, list: &MoveList, other: &MoveList) -> Option<Errand<Found>> {
    let (one, two) = (Braid::new(list).ok()?, Braid::new(other).ok()?);
    let (list, other) = (list.clone(), other.clone());
    Some(Errand::send("comparison", ui.ctx(), move |teller| {
        let (one, two) = (Round::of(&one), Round::of(&two));
        let comparison = compare(&one, &two);
        let joints = if teller.is_stopped() {
            Vec::new()
        } else {
            joints(&one, &two)
        };
        let slides = (joints
            .iter()
            .map(|joint| slides(&list, &other, joint.place)))
        .collect();
        teller.tell(Found {
            comparison,
            joints,
            slides,
        });
    }))
}

/// The choice of another one, the sentence, and the row of beginnings.
pub(super) fn beside_ui(ui: &mut Ui, list: &MoveList, desk: &Desk<'_>, view: &mut BesideView) {
    ui.add_space(8.0);
    Role::Section.label(ui, "Beside another");
    let strands = list.start.len();
    let all = shelf().iter().chain(desk.own);
    let alike: Vec<&Structure> = all.filter(|one| one.strands() == strands).collect();
    if alike.is_empty() {
        Role::Note.label(
            ui,
            format!("No other one of {strands} strands on the shelves"),
        );
        return;
    }
    choice_ui(ui, &alike, view);
    let is_it = |one: &&&Structure| view.other.as_deref() == Some(&one.name);
    let Some(other) = alike.iter().find(is_it) else {
        return;
    };
    view.ask(ui, list, &other.moves);
    match (&view.found, &view.errand) {
        (Some(found), _) => found_ui(ui, found),
        (None, Some(_)) => drop(Role::Note.label(ui, "being looked into…")),
        (None, None) => drop(Role::Note.label(ui, "These moves are no braid yet")),
    }
}

fn choice_ui(ui: &mut Ui, alike: &[&Structure], view: &mut BesideView) {
    let shown = view
        .other
        .as_deref()
        .filter(|name| alike.iter().any(|one| one.name == **name));
    let width = ui.available_width() - 8.0;
    let chosen = ComboBox::from_id_salt("beside")
        .width(width)
        .truncate()
        .selected_text(shown.unwrap_or("How does it differ from …"))
        .show_ui(ui, |ui| {
            for one in alike {
                let name = Some(one.name.clone());
                ui.selectable_value(&mut view.other, name, &one.name);
            }
        });
    let role = eframe::egui::Role::ComboBox;
    (chosen.response).widget_info(|| WidgetInfo::labeled(role, true, "beside"));
}

fn found_ui(ui: &mut Ui, found: &Found) {
    let text = Role::Text.text(ui, found.comparison.sentence());
    ui.add(Label::new(text).wrap());
    if found.joints.is_empty() {
        Role::Note.label(ui, "One of them does not interlace: no join to speak of");
        return;
    }
    Role::Label.label(ui, "From here to there");
    let note = |ui: &mut Ui, words: String| {
        let text = Role::Note.text(ui, words);
        ui.add(Label::new(text).wrap());
    };
    note(ui, joints_words(&found.joints));
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(3.0, 4.0);
        for (joint, slides) in found.joints.iter().zip(&found.slides) {
            joint_ui(ui, joint, *slides);
        }
    });
    note(
        ui,
        "The number is the strand, clockwise from the mark, that lies on the first place of the \
         other. A broken thread undoes the join."
            .to_owned(),
    );
}

fn joints_words(joints: &[Joint]) -> String {
    let undone: Vec<String> = joints
        .iter()
        .filter(|joint| joint.undoes())
        .map(|joint| (joint.place + 1).to_string())
        .collect();
    let names: Vec<&str> = undone.iter().map(String::as_str).collect();
    match names.len() {
        0 => "Begun anywhere, the join stays tight.".to_owned(),
        n if n == joints.len() => "Begun anywhere, it takes back what was braided.".to_owned(),
        1 => format!("Begun at {}, it takes back what was braided.", names[0]),
        _ => format!(
            "Begun at {}, it takes back what was braided.",
            words::list(&names)
        ),
    }
}

/// A beginning: its number in a ring that holds, or on a broken thread.
fn joint_ui(ui: &mut Ui, joint: &Joint, slides: Option<usize>) {
    let (rect, response) = ui.allocate_exact_size(vec2(28.0, 40.0), Sense::hover());
    let words = joint_words(joint, slides);
    let role = eframe::egui::Role::Label;
    response.widget_info(|| WidgetInfo::labeled(role, true, &words));
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let ring = rect.center_top() + vec2(0.0, 14.0);
    let ink = if joint.undoes() {
        let edge = stitch::circle_outline(ring, 12.0);
        painter.extend(stitch::dashed(&edge, stitch::OFF, theme.stop));
        Icon::Broken.paint(painter, ring + vec2(0.0, 20.0), 14.0, theme.stop);
        theme.stop
    } else {
        painter.circle_stroke(ring, 12.0, Stroke::new(1.6, theme.ok));
        Icon::Check.paint(painter, ring + vec2(0.0, 20.0), 12.0, theme.ok);
        theme.ink
    };
    let number = (joint.place + 1).to_string();
    painter.text(
        ring,
        Align2::CENTER_CENTER,
        number,
        Face::Figures.at(15.0),
        ink,
    );
    tip(response, &words);
}

fn joint_words(joint: &Joint, slides: Option<usize>) -> String {
    let verdict = if joint.undoes() {
        "undoes the join"
    } else {
        "keeps the join tight"
    };
    let slides = match slides {
        None => String::new(),
        Some(0) => ", no slide".to_owned(),
        Some(1) => ", one slide".to_owned(),
        Some(n) => format!(", {} slides", words::count(n)),
    };
    let kept = (100.0 * joint.kept).round().clamp(0.0, 100.0);
    format!(
        "strand {}: {verdict}, {kept} % kept{slides}",
        joint.place + 1
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn joint(place: usize, kept: f64) -> Joint {
        Joint { place, kept }
    }

    #[test]
    fn beginnings_are_told_in_words() {
        let good = joint(0, 0.97);
        assert_eq!(
            joint_words(&good, Some(1)),
            "strand 1: keeps the join tight, 97 % kept, one slide"
        );
        assert!(joint_words(&joint(2, 0.0), None).contains("undoes the join"));
        let said = joints_words(&[good, joint(1, 0.1), joint(2, 0.0)]);
        assert_eq!(said, "Begun at 2 and 3, it takes back what was braided.");
        assert_eq!(
            joints_words(&[good]),
            "Begun anywhere, the join stays tight."
        );
    }
}
