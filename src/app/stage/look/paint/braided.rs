//! What can be braided: the arrangement that agrees best, and where it does not.

use eframe::egui::{Align2, Ui, WidgetInfo};

use crate::app::controls::head;
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::theme::Theme;
use crate::drawing::Place;
use crate::pattern::Answer;

use super::{PaintView, painted};

/// The middle sheet; `height` is the room for all of it.
pub(super) fn braided_ui(ui: &mut Ui, height: f32, desk: &Desk<'_>, view: &mut PaintView) {
    head(ui, "What can be braided", |_| {});
    let rect = view.place(ui, height - painted::foot(ui.available_width()));
    let theme = Theme::of(ui);
    ui.painter().rect_filled(rect, 6.0, theme.well);
    view.unroll(ui, rect, desk);
    let colours = view.colours.clone();
    let pick = view.search.pick;
    let is_busy = view.search.is_busy();
    let Some(found) = view.search.found_mut().filter(|it| !it.answers.is_empty()) else {
        let words = if view.is_unpainted() {
            "It stands here as soon as something is painted."
        } else if is_busy {
            "being looked for"
        } else {
            "nothing can be told yet"
        };
        let font = Role::Note.font();
        ui.painter().text(
            rect.center(),
            Align2::CENTER_CENTER,
            words,
            font,
            theme.ink2,
        );
        return;
    };
    let Some(answer) = found.answers.get(pick) else {
        return;
    };
    let surface = std::sync::Arc::clone(&found.charts[pick].surface);
    let stamp = super::stamp((&answer.arrangement, &colours, pick, bits(answer.shift)));
    let tone = |place: Place| {
        let strand = surface.floats.get(place.float?)?.strand;
        let colour = answer.arrangement.0.get(strand)?;
        colours.get(usize::from(*colour)).copied()
    };
    let response = found.charts[pick].show(ui, rect, "braided surface", stamp, tone);
    let spoken = sentence(answer);
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Image, true, &spoken));
    let chart = &found.charts[pick];
    for fate in answer.stitches.iter().filter(|fate| !fate.agrees()) {
        chart.ring(ui, rect, fate.float, &theme);
    }
    let pointed = response
        .hover_pos()
        .and_then(|at| chart.under(rect, at)?.float);
    let stitch = answer
        .stitches
        .iter()
        .position(|it| Some(it.float) == pointed && !it.agrees());
    if response.clicked() {
        let strand = pointed.and_then(|float| chart.surface.floats.get(float));
        view.chooses = strand.map(|float| float.strand);
        view.asked_why = stitch;
    }
    if let Some(float) = pointed {
        view.search.outline(ui, rect, float, theme.ink);
    }
    below_ui(ui, view);
}

fn bits(shift: [f64; 2]) -> [u64; 2] {
    shift.map(f64::to_bits)
}

/// How far it agrees, in a sentence.
pub(super) fn sentence(answer: &Answer) -> String {
    let (agree, of) = answer.stitches_that_agree();
    let share = (100.0 * answer.share).floor();
    match (agree, of) {
        (1, 1) => format!("the stitch as you painted it, {share} % of its area"),
        _ if agree == of => format!("all {of} stitches as you painted them, {share} % of the area"),
        _ => format!("{agree} of {of} stitches as you painted them, {share} % of the area"),
    }
}

fn below_ui(ui: &mut Ui, view: &PaintView) {
    let Some(found) = view.search.found() else {
        return;
    };
    let Some(answer) = found.answers.get(view.search.pick) else {
        return;
    };
    ui.add_space(10.0);
    Role::Name.label(ui, sentence(answer));
    let (agree, of) = answer.stitches_that_agree();
    if agree < of {
        Role::Note.label(
            ui,
            "Stitched rings: these cannot change alone. Click one to hear why.",
        );
    }
}
