//! The disc with its tools above and the play bar below.

use std::collections::BTreeSet;

use eframe::egui::{
    Align2, Color32, Rect, Response, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use crate::app::command::Command;
use crate::app::controls::{colour_square, tip};
use crate::app::desk::Desk;
use crate::app::disc::{DiscAsk, DiscStrand, DiscTool, DiscView, disc_ui};
use crate::app::fonts::Face;
use crate::app::icons::Icon;
use crate::app::painting::screen_colour;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::document::{Design, Edit, strand_name};
use crate::drawing::fillings;
use crate::material::colour::Sight;
use crate::material::{Appearance, Construction, Strand};
use crate::structure::{Braid, MoveList, Place};

use super::LookView;
use super::colours::offered;
use super::left::Left;
use super::make;
use super::play;
use super::recording::{self, Recording};
use super::standing::Standing;
use super::verdict;

/// Draws tools, disc and play bar into `rect`.
pub(super) fn disc_column(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let said = verdict::Said::of(ui, desk, view, rect.width());
    let (rect, line) = said.beside(rect);
    said.show(ui, line, desk, view, wants);
    let (disc, bar) = divided(rect);
    // The tool may be laid down before the frame is over.
    let (disc, bar, brush) = match view.tool {
        DiscTool::Paint => with_colours(disc, bar),
        DiscTool::Move | DiscTool::Mark => (disc, bar, None),
    };
    let disc = clear_of_tools(rect.left(), disc, desk);
    disc_spot(ui, disc, desk, view, wants);
    // After the disc, which takes every press on its ground.
    tools_ui(ui, rect.left(), disc, desk, view);
    if let Some(brush) = brush {
        let builder = UiBuilder::new().max_rect(brush).id_salt("brush");
        ui.scope_builder(builder, |ui| brush_ui(ui, desk, view));
    }
    if view.recording.is_some() {
        recording::bar_ui(ui, bar, desk, view, wants);
    } else {
        let faults = verdict::fault_places(desk);
        play::play_ui(ui, bar, desk, &faults, &mut view.play);
    }
}

/// Side of a tool, and the room it takes beside a disc.
const TOOL: f32 = 42.0;
const TOOL_ROOM: f32 = TOOL + 10.0;

/// A square plate fills the corners where the tools stand: it stays right of them.
fn clear_of_tools(left: f32, disc: Rect, desk: &Desk<'_>) -> Rect {
    let is_square = desk.moves().is_some_and(|moves| !moves.plate.is_disc());
    let over = (left + TOOL_ROOM - disc.left()).max(0.0);
    if is_square {
        disc.shrink2(vec2(over, 0.0))
    } else {
        disc
    }
}

/// The disc over the bar; beside it where height is short and width is not.
fn divided(rect: Rect) -> (Rect, Rect) {
    let tools = 50.0;
    let side = rect.height();
    let beside = rect.width() - tools - side;
    if side < 270.0 && beside > 190.0 {
        let disc = Rect::from_min_size(pos2(rect.left() + tools, rect.top()), vec2(side, side));
        return (disc, rect.with_min_x(disc.right() + 8.0));
    }
    let bar = rect.with_min_y(rect.bottom() - play::HEIGHT - 12.0);
    (rect.with_max_y(bar.top() - 6.0), bar)
}

/// Room for the colours of the brush: a row under the disc, or under the bar
/// where that stands beside it.
fn with_colours(disc: Rect, bar: Rect) -> (Rect, Rect, Option<Rect>) {
    let row = 36.0;
    if bar.top() < disc.bottom() {
        let middle = bar.center().y + 8.0;
        return (disc, bar.with_max_y(middle), Some(bar.with_min_y(middle)));
    }
    let split = disc.bottom() - row;
    let colours = disc.with_min_y(split + 2.0);
    (disc.with_max_y(split), bar, Some(colours))
}

fn disc_spot(
    ui: &mut Ui,
    rect: Rect,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let Some(moves) = desk.moves() else { return };
    let braid = Braid::new(moves).ok();
    let standing = match (&view.recording, &braid) {
        (Some(recording), _) => recording.standing(),
        (None, Some(braid)) => Standing::after(braid, view.play.done),
        (None, None) => Standing::walked(moves, view.play.done),
    };
    let standing = standing.with_next(view, moves);
    let flags = verdict::flags(desk, view);
    let strands = strands_on(desk, view.sight(), &standing.places);
    let sound = braid.is_some() && !view.records();
    let core = core_of(desk.design);
    let breaking = breaking(moves, &standing.places, sound);
    let shown = DiscView {
        numbering: desk.numbering(),
        plate: moves.plate,
        core: core.as_ref(),
        tool: view.tool,
        next: &standing.next,
        just_done: &standing.just_done,
        order: &standing.order,
        breaking: &breaking,
        flags: &flags,
        hand: view.records(),
        ..DiscView::new(moves.slots, &strands, &view.chosen)
    };
    let builder = UiBuilder::new().max_rect(rect).id_salt("disc");
    let asks = ui
        .scope_builder(builder, |ui| disc_ui(ui, &shown, &mut view.disc))
        .inner;
    for ask in asks {
        answer(ask, desk, view, wants);
    }
}

/// The strands as the disc draws them, seen with the eyes asked for and marked
/// besides colour where that is wanted.
fn strands_on(desk: &Desk<'_>, sight: Sight, places: &[Place]) -> Vec<DiscStrand> {
    let design = desk.design;
    let fillings = match desk.settings.marks {
        true => fillings(&design.strands),
        false => vec![None; design.strands.len()],
    };
    let strands = design.strands.iter().zip(places).zip(fillings).enumerate();
    let one = |(index, ((strand, &place), filling))| {
        let plain = drawn(design, strand, strand_name(index), place);
        let colours = plain.colours.iter().map(|colour| sight.of(*colour));
        DiscStrand {
            colours: colours.collect(),
            filling,
            ..plain
        }
    };
    strands.map(one).collect()
}

/// All cores held together, if there are any.
pub(in crate::app::stage) fn core_of(design: &Design) -> Option<DiscStrand> {
    let core = Strand::together(&design.cores())?;
    Some(drawn(design, &core, String::new(), Place::Hand))
}

/// The strands of a design where they lie, in their own colours.
pub(in crate::app::stage) fn strands_at(design: &Design, places: &[Place]) -> Vec<DiscStrand> {
    let strands = design.strands.iter().zip(places).enumerate();
    let one = |(index, (strand, &place))| drawn(design, strand, strand_name(index), place);
    strands.map(one).collect()
}

/// A strand of the design as the disc draws it.
pub(in crate::app::stage) fn drawn(
    design: &Design,
    strand: &Strand,
    letter: String,
    place: Place,
) -> DiscStrand {
    DiscStrand {
        letter,
        place,
        colours: colours(strand),
        ends: strand.ends().min(usize::from(u16::MAX)) as u16,
        thickness_mm: thickness(design, strand),
        appearance: appearance(design, strand),
        filling: None,
        words: strand
            .parts
            .first()
            .map_or(String::new(), |part| part.fibre.clone()),
    }
}

/// One colour for each end, from side to side.
pub(super) fn colours(strand: &Strand) -> Vec<crate::material::Colour> {
    let parts = strand.parts.iter();
    parts
        .flat_map(|part| std::iter::repeat_n(part.colour, usize::from(part.ends)))
        .collect()
}

/// Lying free, mm; that of a plain cord while it cannot be said.
fn thickness(design: &Design, strand: &Strand) -> f64 {
    strand
        .body(&design.fibres)
        .map_or(2.0, |body| body.diameter)
}

pub(super) fn appearance(design: &Design, strand: &Strand) -> Appearance {
    let fibre = strand
        .parts
        .first()
        .and_then(|part| design.fibre(&part.fibre));
    fibre.map_or(Construction::SatinCord.appearance(), |fibre| {
        fibre.appearance
    })
}

/// Free slots: a strand laid there is not where the moves look for it.
fn breaking(moves: &MoveList, places: &[Place], sound: bool) -> Vec<Place> {
    if !sound {
        return Vec::new();
    }
    let taken: BTreeSet<Place> = places.iter().copied().collect();
    (1..=moves.slots)
        .map(Place::slot)
        .filter(|place| !taken.contains(place))
        .collect()
}

/// What was asked for on the disc becomes a choice or a command.
fn answer(ask: DiscAsk, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    match ask {
        DiscAsk::Choose { strand, add: false } => view.chosen = BTreeSet::from([strand]),
        DiscAsk::Choose { strand, add: true } => {
            if !view.chosen.remove(&strand) {
                view.chosen.insert(strand);
            }
        }
        DiscAsk::ChooseMany(strands) => view.chosen = strands.into_iter().collect(),
        DiscAsk::LetGo => view.chosen.clear(),
        DiscAsk::Paint { strand } => wants.push(Command::Edit(Edit::Paint {
            strands: vec![strand],
            part: None,
            colour: view.brush,
        })),
        DiscAsk::Tool(tool) => view.tool = tool,
        DiscAsk::Carry { strand, to } => carry(strand, to, desk, view, wants),
        DiscAsk::Swap { strand, with } => swap(strand, with, desk, view, wants),
        // Only where it is marked what is seen.
        DiscAsk::Mark(_) | DiscAsk::Number { .. } => {}
    }
}

/// To a free place: a move while moves are recorded, another start otherwise.
fn carry(strand: usize, to: Place, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    if let Some(recording) = &mut view.recording {
        recording.carry(strand, to);
        return;
    }
    if let Some(list) = desk.moves().filter(|_| view.records_into()) {
        if let Some(one) = make::move_of(list, view, strand, to) {
            view.make.dragged(list, one, &mut view.play, wants);
        }
        return;
    }
    // A place in the middle of the moves is no start.
    view.play.rewind();
    wants.push(Command::Edit(Edit::Lay { strand, place: to }));
}

/// Two strands change places for good, wherever the moves stand just now.
fn swap(strand: usize, with: usize, desk: &Desk<'_>, view: &LookView, wants: &mut Vec<Command>) {
    let place = desk
        .moves()
        .and_then(|moves| moves.start.get(with).copied());
    if let Some(place) = place.filter(|_| !view.records()) {
        wants.push(Command::Edit(Edit::Lay { strand, place }));
    }
}

/// Room for the word beside a tool's icon.
const WORD: f32 = 56.0;

/// Tools at the upper left, recording at the lower: in the corners that the round
/// disc leaves free. With words where those are clear of the strands' letters.
fn tools_ui(ui: &mut Ui, left: f32, disc: Rect, desk: &Desk<'_>, view: &mut LookView) {
    let spots = tool_spots(left, disc);
    let is_round = desk.moves().is_none_or(|moves| moves.plate.is_disc());
    let has_words = is_round && spots.iter().all(|spot| has_word_room(*spot, disc));
    let [hand, brush, rec] = spots;
    let tools = [
        (DiscTool::Move, hand, Icon::Hand, "Move"),
        (DiscTool::Paint, brush, Icon::Brush, "Paint"),
    ];
    for (tool, spot, icon, name) in tools {
        let chosen = view.tool == tool;
        if tool_ui(ui, spot, icon, name, chosen, has_words).clicked() {
            view.tool = tool;
        }
    }
    let records = view.records();
    if tool_ui(ui, rec, Icon::Rec, "Record", records, has_words).clicked() {
        record(desk, view);
    }
}

/// Where hand, brush and recording stand beside a disc.
fn tool_spots(left: f32, disc: Rect) -> [Rect; 3] {
    [disc.top() + 4.0, disc.top() + 54.0, disc.bottom() - 46.0]
        .map(|top| Rect::from_min_size(pos2(left, top), vec2(TOOL, TOOL)))
}

/// Whether a tool's word is clear of the round that disc and letters take up.
fn has_word_room(spot: Rect, disc: Rect) -> bool {
    let word = Rect::from_min_max(spot.right_top(), spot.right_bottom() + vec2(WORD, 0.0));
    let word = word.shrink2(vec2(0.0, 12.0));
    let nearest = word.clamp(disc.center());
    nearest.distance(disc.center()) > 0.5 * disc.width().min(disc.height())
}

/// Recording begins with the strands as they lie, and ends without a word. Where
/// the moves are made step by step it goes on with them, at the cursor.
fn record(desk: &Desk<'_>, view: &mut LookView) {
    if view.recording.take().is_some() {
        return;
    }
    let Some(moves) = desk.moves() else { return };
    view.tool = DiscTool::Move;
    if view.left == Left::Make {
        view.make.toggle_by_hand(moves, &mut view.play);
    } else {
        view.play.rewind();
        view.recording = Some(Recording::new(moves));
    }
}

fn tool_ui(ui: &Ui, spot: Rect, icon: Icon, name: &str, chosen: bool, has_words: bool) -> Response {
    let target = if has_words {
        spot.with_max_x(spot.right() + WORD)
    } else {
        spot
    };
    let response = ui.interact(target, ui.scope_id().with(name), Sense::click());
    let role = eframe::egui::Role::RadioButton;
    response.widget_info(|| WidgetInfo::selected(role, true, chosen, format!("tool: {name}")));
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let radius = 0.5 * spot.width();
    let colour = if chosen { theme.ink } else { theme.ink2 };
    if chosen {
        painter.circle_filled(spot.center(), radius, theme.paper);
        let edge = stitch::circle_outline(spot.center(), radius);
        painter.extend(stitch::dashed(&edge, stitch::CHOSEN, theme.thread));
    } else if response.hovered() {
        painter.circle_filled(spot.center(), radius, theme.well);
    }
    icon.paint(painter, spot.center(), 20.0, colour);
    if has_words {
        let face = if chosen { Face::Bold } else { Face::Medium };
        let at = spot.right_center() + vec2(3.0, 0.0);
        painter.text(at, Align2::LEFT_CENTER, name, face.at(14.0), colour);
    }
    if response.has_focus() && crate::app::controls::keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, spot, radius, &theme);
    }
    tip(response, tool_tip(name))
}

fn tool_tip(name: &str) -> &str {
    match name {
        "Move" => "Move: choose strands, drag them to a slot or onto one another",
        "Paint" => {
            "Paint: put the colour of the brush on strands; P takes it up while the disc has the keyboard"
        }
        _ => "Record moves of your own: each drag is a move, checked as it is made",
    }
}

/// The colours in a row, one of them on the brush; in two where it is short.
fn brush_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut LookView) {
    let (wide, gap) = (36.0, 0.0);
    let offered = offered(desk);
    let room = ((ui.available_width() / (wide + gap)) as usize).max(1);
    let rows = if ui.available_height() > 64.0 { 2 } else { 1 };
    ui.spacing_mut().item_spacing = vec2(gap, 0.0);
    for row in offered.chunks(room).take(rows) {
        let left = ui.available_width() - row.len() as f32 * (wide + gap);
        ui.horizontal(|ui| {
            ui.add_space((0.5 * left).max(0.0));
            for (colour, name) in row {
                let name = format!("brush {name}");
                let chosen = view.brush == *colour;
                if colour_square(ui, screen_colour(*colour), &name, chosen).clicked() {
                    view.brush = *colour;
                }
            }
        });
    }
}

/// A hairline ring, for bars that stand on the table.
pub(super) fn paper_bar(ui: &Ui, bar: Rect, radius: f32) {
    let theme = Theme::of(ui);
    let shadow = crate::app::theme::sheet_shadow(&theme).as_shape(bar, radius);
    ui.painter().add(shadow);
    ui.painter().rect_filled(bar, radius, theme.paper);
    let edge = if theme.is_night() {
        theme.line
    } else {
        Color32::TRANSPARENT
    };
    let stroke = Stroke::new(1.0, edge);
    ui.painter()
        .rect_stroke(bar, radius, stroke, eframe::egui::StrokeKind::Inside);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sound_list_breaks_at_every_free_slot() {
        let design = crate::app::fresh::plain();
        let moves = &design.sections[0].moves;
        let free = breaking(moves, &moves.start, true);
        assert_eq!(free.len(), usize::from(moves.slots) - design.strands.len());
        assert!(
            breaking(moves, &moves.start, false).is_empty(),
            "nothing to break"
        );
    }
}
