//! One explanation: how the disc lies then, what happened, how likely it is and what the
//! way back costs.

use std::sync::Arc;

use eframe::egui::{Align2, Color32, FontId, Galley, Id, Rect, Ui, pos2, vec2};

use super::super::little::LittleDisc;
use super::super::work::Work;
use super::likelihood;
use crate::app::controls::Pick;
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::app::words;
use crate::bench::Lying;
use crate::bench::lost::Explanation;
use crate::structure::Place;

/// The disc's picture.
const PICTURE: f32 = 66.0;
/// Room for word, figure and bar at the right.
const FIGURE: f32 = 104.0;
const GAP: f32 = 12.0;

/// Draws the row; whether it was pressed.
pub(super) fn answer_ui(
    ui: &mut Ui,
    place: usize,
    found: &Explanation,
    chosen: bool,
    work: &Work<'_>,
) -> bool {
    let theme = Theme::of(ui);
    let title = title(found, work);
    let note = cost(found, work);
    let width = ui.available_width() - PICTURE - FIGURE - 2.0 * GAP;
    let lines = [
        (&title, Face::Semibold.at(15.0), theme.ink),
        (&note, Role::Note.font(), theme.ink2),
    ];
    let [title_lines, note_lines] =
        lines.map(|(text, font, ink)| galley(ui, text, font, ink, width));
    let tall = (title_lines.size().y + note_lines.size().y + 2.0).max(PICTURE);
    let spoken = spoken(place, found, &title, &note);
    let row = Pick::row(&spoken, chosen, tall + 20.0).id(Id::unique(("wrong answer", place)));
    let response = row.show(ui, |ui| {
        let rect = ui.max_rect();
        let spot = Rect::from_center_size(
            rect.left_center() + vec2(0.5 * PICTURE, 0.0),
            vec2(PICTURE, PICTURE),
        );
        picture(ui, spot, found, work);
        let tall = title_lines.size().y + note_lines.size().y + 2.0;
        let corner = pos2(spot.right() + GAP, rect.center().y - 0.5 * tall);
        let under = corner + vec2(0.0, title_lines.size().y + 2.0);
        ui.painter().galley(corner, title_lines, theme.ink);
        ui.painter().galley(under, note_lines, theme.ink2);
        likelihood_ui(ui, found.probability, rect, &theme);
    });
    response.clicked()
}

/// What happened, in a sentence.
fn title(found: &Explanation, work: &Work<'_>) -> String {
    if found.mistakes.is_empty() && found.done == found.counted {
        return format!("All is as it should be after move {}.", found.done);
    }
    found.sentence(work.braid.moves(), work.numbering)
}

fn galley(ui: &Ui, text: &str, font: FontId, ink: Color32, width: f32) -> Arc<Galley> {
    ui.painter().layout(text.to_owned(), font, ink, width)
}

/// An explanation in a sentence, with how likely it is.
pub(super) fn told(found: &Explanation, work: &Work<'_>) -> String {
    let likely = likelihood::word(found.probability);
    let figure = likelihood::figure(found.probability);
    format!("{} {likely}, {figure}", title(found, work))
}

fn spoken(place: usize, found: &Explanation, title: &str, note: &str) -> String {
    let likely = likelihood::word(found.probability);
    let figure = likelihood::figure(found.probability);
    format!("answer {}: {title} {likely}, {figure}; {note}", place + 1)
}

/// Figure over its word, the bar under both.
fn likelihood_ui(ui: &Ui, probability: f64, row: Rect, theme: &Theme) {
    let painter = ui.painter();
    let right = row.right_center();
    painter.text(
        right - vec2(0.0, 15.0),
        Align2::RIGHT_CENTER,
        likelihood::figure(probability),
        Role::Value.font(),
        theme.ink,
    );
    painter.text(
        right + vec2(0.0, 4.0),
        Align2::RIGHT_CENTER,
        likelihood::word(probability),
        Role::Note.font(),
        theme.ink2,
    );
    let bar = Rect::from_min_size(right + vec2(16.0 - FIGURE, 16.0), vec2(FIGURE - 16.0, 9.0));
    likelihood::bar(painter, bar, probability, theme);
}

/// How the disc lies by it, and from where to where what lies wrong would have to go.
fn picture(ui: &Ui, spot: Rect, found: &Explanation, work: &Work<'_>) {
    let list = work.braid.moves();
    let disc = LittleDisc {
        plate: list.plate,
        slots: list.slots,
        turn: work.turn,
        lying: &found.lying,
        colours: &work.colours(),
        arrows: &astray(found, work),
    };
    disc.paint(ui.painter(), spot, &Theme::of(ui));
}

/// From where each strand should lie to where it does.
fn astray(found: &Explanation, work: &Work<'_>) -> Vec<(Place, Place)> {
    let should = Lying::after(work.braid, &found.way.roles, found.done);
    let both = should.places().iter().zip(found.lying.places());
    both.filter(|(should, lies)| should != lies)
        .map(|(&should, &lies)| (should, lies))
        .collect()
}

/// What the way back takes: "3 moves to take back, 4 to make again".
fn cost(found: &Explanation, work: &Work<'_>) -> String {
    let all = found.way.steps.len();
    let again = found.way.made_again(work.braid);
    let lands = found.way.lands;
    if all == 0 && found.mistakes.is_empty() && found.done == found.counted {
        return "nothing is to be taken back".to_owned();
    }
    if all == 0 {
        return format!("nothing is to be taken back: go on after move {lands}");
    }
    let moves = |many: usize| format!("{many} move{}", if many == 1 { "" } else { "s" });
    match (all - again, again) {
        (back, 0) if lands >= found.done => {
            format!("{} to set it right, after move {lands}", moves(back))
        }
        (0, again) => format!("{} to make, and you are after move {lands}", moves(again)),
        (back, 0) => format!("{} to take back, to after move {lands}", moves(back)),
        (back, again) => format!(
            "{} to take back, {} to make again",
            moves(back),
            words::count(again)
        ),
    }
}
