//! The disc on which it is marked what lies there.

use std::collections::BTreeSet;

use eframe::egui::{Rect, Ui, UiBuilder};

use super::super::work::Work;
use super::marks::{Mark, Marked, Marks};
use super::{Wrong, bar};
use crate::app::disc::{DiscAsk, DiscStrand, DiscTool, DiscView, disc_ui};
use crate::app::flags::Flags;
use crate::app::stage::look::drawn_on_disc;
use crate::document::strand_name;
use crate::drawing::{Filling, fillings};
use crate::material::{Appearance, Colour, Construction};
use crate::structure::Place;

/// A strand whose colour is not told.
const UNTOLD: Colour = Colour([168, 160, 148]);

/// Lower than this the disc has all the room, and the marks stand in the panel.
const LOW: f32 = 380.0;

/// Draws the disc, with patterns besides colours or not, and, where there is room under it,
/// what can be marked in the chosen slot.
pub(super) fn spot_ui(ui: &mut Ui, rect: Rect, work: &Work<'_>, wrong: &mut Wrong, marked: bool) {
    wrong.is_low = rect.height() < LOW;
    let split = match wrong.is_low {
        true => rect.bottom(),
        false => rect.bottom() - bar::height(ui, rect.width(), work) - 12.0,
    };
    let disc = rect.with_max_y(split);
    ui.scope_builder(UiBuilder::new().max_rect(disc).id_salt("seen"), |ui| {
        drawn_ui(ui, work, wrong, marked);
    });
    if wrong.is_low {
        return;
    }
    let under = rect.with_min_y(split + 4.0);
    ui.scope_builder(UiBuilder::new().max_rect(under).id_salt("mark"), |ui| {
        marks_ui(ui, work, wrong);
    });
}

/// What can be marked in the chosen slot.
pub(super) fn marks_ui(ui: &mut Ui, work: &Work<'_>, wrong: &mut Wrong) {
    if let Some(marks) = &mut wrong.marks {
        bar::bar_ui(ui, work, marks, wrong.slot);
    }
}

fn drawn_ui(ui: &mut Ui, work: &Work<'_>, wrong: &mut Wrong, marked: bool) {
    let Some(marks) = &mut wrong.marks else {
        return;
    };
    let strands = strands(work, marks, marked);
    let chosen = chosen(marks, wrong.slot);
    let unsure = marks.unsure();
    let flags = Flags {
        strands: Vec::new(),
        places: marks.differing(),
    };
    let list = work.braid.moves();
    let view = DiscView {
        numbering: work.numbering,
        plate: list.plate,
        tool: DiscTool::Mark,
        unsure: &unsure,
        flags: &flags,
        hand: true,
        turn: work.turn,
        ..DiscView::new(list.slots, &strands, &chosen)
    };
    for ask in disc_ui(ui, &view, &mut wrong.disc) {
        answer(&ask, marks, &mut wrong.slot, work.looks.count());
    }
}

/// The strand in the chosen slot.
fn chosen(marks: &Marks, slot: Option<Place>) -> BTreeSet<usize> {
    let at = |place: Place| marks.lying().iter().position(|it| it.place == place);
    slot.and_then(at).into_iter().collect()
}

fn strands(work: &Work<'_>, marks: &Marks, marked: bool) -> Vec<DiscStrand> {
    let fillings = match marked {
        true => fillings(&work.design.strands),
        false => vec![None; work.design.strands.len()],
    };
    let told = |it: &Marked| it.look.filter(|_| !marks.only_full);
    let one = |it: &Marked| match told(it).and_then(|look| work.looks.first.get(look)) {
        Some(&strand) => DiscStrand {
            letter: (work.looks.of[strand] + 1).to_string(),
            filling: fillings[strand],
            words: work.looks.names[work.looks.of[strand]].clone(),
            ..drawn(work, strand, it.place)
        },
        None => untold(it.place),
    };
    marks.lying().iter().map(one).collect()
}

pub(super) fn drawn(work: &Work<'_>, strand: usize, place: Place) -> DiscStrand {
    let made = &work.design.strands[strand];
    drawn_on_disc(work.design, made, strand_name(strand), place)
}

/// A strand of which only its place is known.
fn untold(place: Place) -> DiscStrand {
    DiscStrand {
        letter: "?".to_owned(),
        place,
        colours: vec![UNTOLD],
        ends: 1,
        thickness_mm: 2.0,
        appearance: smooth(),
        filling: Some(Filling::Dotted),
        words: "colour not told".to_owned(),
    }
}

fn smooth() -> Appearance {
    Construction::SatinCord.appearance()
}

/// What was asked for on the disc becomes a mark.
fn answer(ask: &DiscAsk, marks: &mut Marks, slot: &mut Option<Place>, looks: usize) {
    let place_of = |marks: &Marks, strand: usize| marks.lying().get(strand).map(|it| it.place);
    match *ask {
        DiscAsk::Choose { strand, .. } => *slot = place_of(marks, strand),
        DiscAsk::LetGo => *slot = None,
        DiscAsk::Carry { strand, to } => {
            marks.carry(strand, to);
            *slot = Some(to);
        }
        DiscAsk::Swap { strand, with } => {
            marks.exchange(strand, with);
            *slot = place_of(marks, strand);
        }
        DiscAsk::Mark(place) => {
            marks.next_at(place);
            *slot = Some(place);
        }
        DiscAsk::Number { place, number } => {
            // More digits than there are looks begin a number of their own.
            let number = if number > looks { number % 10 } else { number };
            if (1..=looks).contains(&number) {
                marks.put(place, Mark::Strand(Some(number - 1)));
                *slot = Some(place);
            }
        }
        DiscAsk::ChooseMany(_) | DiscAsk::Paint { .. } | DiscAsk::Tool(_) => {}
    }
}
