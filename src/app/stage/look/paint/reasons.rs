//! Why not all, the nearest answers, and taking one.

use std::sync::Arc;

use eframe::egui::{Rect, Ui, pos2, vec2};

use crate::app::command::Command;
use crate::app::controls::{Button, Pick, Sheet, head, link, segments};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::Role;
use crate::app::painting::threads_in;
use crate::app::theme::Theme;
use crate::document::{Design, Edit};
use crate::drawing::Thread;
use crate::material::Colour;
use crate::pattern::{Answer, Hand};

use super::super::structures::{order, sample_picture};
use super::super::{LookPage, LookView};
use super::StrandsEach;
use super::search::Able;

/// Size of an answer's cord.
const CORD: eframe::egui::Vec2 = vec2(150.0, 34.0);

/// The right column.
pub(super) fn reasons_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let width = ui.available_width();
    Sheet::new()
        .size([width, 0.0])
        .show(ui, |ui| why_ui(ui, view));
    ui.add_space(16.0);
    Sheet::new().size([width, 0.0]).show(ui, |ui| {
        nearest_ui(ui, desk, view, easel, wants);
    });
}

fn why_ui(ui: &mut Ui, view: &mut LookView) {
    head(ui, "Why not all", |_| {});
    let paint = &view.paint;
    let pick = paint.search.pick;
    let found = paint.search.found().filter(|it| !it.answers.is_empty());
    let words = found.map(|found| {
        let (answer, able) = (&found.answers[pick], found.able(pick));
        let names: Vec<String> = paint
            .colours
            .iter()
            .map(|it| it.name().to_owned())
            .collect();
        let asked = paint.asked_why.zip(able);
        let one = asked.and_then(|(stitch, able)| answer.why_not(stitch, &able.candidate, &names));
        one.or_else(|| answer.why_not_all(&able?.candidate, &names))
            .unwrap_or_else(|| "Everything you painted can be braided.".to_owned())
    });
    let words = words.unwrap_or_else(|| {
        "A strand keeps its colour all along, and shows in several places. What you paint in one \
         of them comes in the others too."
            .to_owned()
    });
    Role::Text.label(ui, words);
    ui.add_space(8.0);
    Role::Note.label(ui, "strands of each colour");
    let words = [
        (StrandsEach::Any, "any number"),
        (StrandsEach::AsPainted, "as painted"),
        (StrandsEach::AsNow, "as now"),
    ];
    let each = &mut view.paint.strands_each;
    segments(ui, "strands of each colour", each, &words);
}

fn nearest_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let count = view.paint.search.found().map_or(0, |it| it.answers.len());
    let title = match count {
        0 | 3 => "Nearest three",
        2 => "Nearest two",
        _ => "The nearest",
    };
    head(ui, title, |_| {});
    if count == 0 {
        Role::Note.label(ui, "Paint something, and the nearest arrangements stand here: of this structure, its mirror image, and others with as many strands.");
        return;
    }
    for which in 0..count {
        answer_ui(ui, which, desk, view, easel);
    }
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        let edit = edit(desk.design, view);
        let is_so = |edit: &Edit| edit.apply(desk.design).is_ok_and(|it| it == *desk.design);
        let is_so = edit.as_ref().is_some_and(is_so);
        let button = Button::main("Take it")
            .off_because(is_so.then_some("the cord has these colours already"));
        if ui.add(button).clicked()
            && let Some(edit) = edit
        {
            view.trying.try_on(edit, desk, wants);
        }
        if link(ui, "back to the disc").clicked() {
            view.turn_page(LookPage::Disc);
        }
    });
    Role::Note.label(
        ui,
        "The strip shows it as soon as it is taken; Esc puts it back.",
    );
}

/// One answer: its cord, how far it agrees, and what it is.
fn answer_ui(ui: &mut Ui, which: usize, desk: &Desk<'_>, view: &mut LookView, easel: &mut Easel) {
    let Some(found) = view.paint.search.found() else {
        return;
    };
    let (Some(answer), Some(able)) = (found.answers.get(which), found.able(which)) else {
        return;
    };
    let able = Arc::clone(able);
    let (agree, of) = answer.stitches_that_agree();
    let (title, note) = (
        format!("{agree} of {of}"),
        note(desk.design, answer, &able, view),
    );
    let threads = threads(desk.design, answer, &view.paint.colours);
    let is_picked = view.paint.search.pick == which;
    let spoken = format!("answer {}: {title} stitches, {note}", which + 1);
    if let Some(key) = mirror_key(&able) {
        view.samples
            .extend(able.moves.clone().map(|moves| (key, moves)));
    }
    let response = Pick::row(&spoken, is_picked, 60.0).show(ui, |ui| {
        let row = ui.max_rect();
        let spot = Rect::from_min_size(pos2(row.left(), row.center().y - CORD.y / 2.0), CORD);
        picture_ui(ui, spot, which, &able, threads, desk, easel);
        let theme = Theme::of(ui);
        let left = spot.right() + 14.0;
        let painter = ui.painter();
        painter.text(
            pos2(left, row.center().y - 9.0),
            eframe::egui::Align2::LEFT_CENTER,
            &title,
            Role::Value.font(),
            theme.ink,
        );
        let galley = painter.layout(note, Role::Note.font(), theme.ink2, row.right() - left);
        painter.galley(pos2(left, row.center().y + 2.0), galley, theme.ink2);
    });
    if response.clicked() {
        view.paint.search.pick = which;
        view.paint.asked_why = None;
    }
}

/// What an answer is: the same cord, its mirror image, or another; and what changes.
fn note(design: &Design, answer: &Answer, able: &Able, view: &LookView) -> String {
    if able.key.is_some() {
        return format!("as {}", able.candidate.name);
    }
    if able.candidate.hand == Hand::Mirrored {
        return "worked in the mirror".to_owned();
    }
    let now = view.paint.arrangement(design);
    let changes = now.0.iter().zip(&answer.arrangement.0).enumerate();
    let changes: Vec<String> = changes
        .filter(|(_, (before, after))| before != after)
        .map(|(strand, _)| crate::document::strand_name(strand))
        .collect();
    match changes.len() {
        0 => "as it is now".to_owned(),
        1..=6 => format!("other colours for {}", changes.join(", ")),
        many => format!("other colours for {many} strands"),
    }
}

/// The key of the sample that shows a mirror image.
fn mirror_key(able: &Able) -> Option<String> {
    let is_mirror = able.key.is_none() && able.candidate.hand == Hand::Mirrored;
    is_mirror.then(|| {
        format!(
            "{} {} in a mirror",
            able.candidate.name, able.candidate.strands
        )
    })
}

fn picture_ui(
    ui: &Ui,
    spot: Rect,
    which: usize,
    able: &Able,
    threads: Arc<[Thread]>,
    desk: &Desk<'_>,
    easel: &mut Easel,
) {
    let key = mirror_key(able).or_else(|| able.key.clone());
    let cord = match &key {
        Some(key) => desk.solver.sample(key).and_then(Option::as_ref),
        None => desk.solver.solved().cord(),
    };
    let Some(cord) = cord else { return };
    let ground = Theme::of(ui).paper;
    let order = order(ui, cord, threads, spot, ground);
    sample_picture(ui, &format!("paint answer {which}"), order, spot, easel);
}

/// What the strands look like in an answer's colours.
fn threads(design: &Design, answer: &Answer, colours: &[Colour]) -> Arc<[Thread]> {
    let worn = worn(design, answer, colours);
    threads_in(design, &worn).into()
}

/// A colour for every part of every strand. A strand of several parts keeps its colours
/// where its first one stays.
fn worn(design: &Design, answer: &Answer, colours: &[Colour]) -> Vec<Vec<Colour>> {
    let strands = design.strands.iter().zip(&answer.arrangement.0);
    strands
        .map(|(strand, &colour)| {
            let now: Vec<Colour> = strand.parts.iter().map(|part| part.colour).collect();
            match colours.get(usize::from(colour)) {
                Some(colour) if now.first() != Some(colour) => vec![*colour; now.len()],
                _ => now,
            }
        })
        .collect()
}

/// The change that makes the picked answer.
fn edit(design: &Design, view: &LookView) -> Option<Edit> {
    let paint = &view.paint;
    let found = paint.search.found()?;
    let answer = found.answers.get(paint.search.pick)?;
    let able = found.able(paint.search.pick)?;
    let look = Edit::Look(worn(design, answer, &paint.colours));
    Some(match &able.moves {
        None => look,
        Some(moves) => Edit::Together {
            done: "what was painted",
            edits: vec![
                Edit::Moves {
                    structure: able.candidate.name.clone(),
                    moves: moves.clone(),
                },
                look,
            ],
        },
    })
}
