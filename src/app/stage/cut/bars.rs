//! The lengths to cut, laid to one scale under a tape.

use eframe::egui::{
    Align, Align2, Color32, Label, Layout, Painter, Pos2, Rect, Response, Role as Part, Sense,
    Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use super::tape::{Scale, tape};
use super::thread_bar::{left_over, paint, thread_bar};
use super::{CutState, CutView, named};
use crate::app::command::Command;
use crate::app::controls::{IconButton, Notice, Tone, keyboard_leads, segments};
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stage::steps;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::document::{Edit, PieceEdit};
use crate::plan::Cut;
use crate::quantity::Estimate;

/// Width of the words before the bars, and of what stands behind them.
const WORDS: f32 = 210.0;
const BEHIND: f32 = 92.0;
/// Height of a row where there are few, and where there are many.
const ROW: f32 = 80.0;
const LOW_ROW: f32 = 70.0;
/// Most rows that are few.
const FEW: usize = 4;
/// Height of the tape with its numbers.
const TAPE: f32 = 40.0;
/// Most bars of one row.
const MOST_BARS: usize = 4;

/// The sheet "Cut".
pub(super) fn bars_ui(
    ui: &mut Ui,
    view: CutView<'_>,
    state: &mut CutState,
    wants: &mut Vec<Command>,
) {
    head_ui(ui, view, wants);
    let list = &view.plan.cut;
    let room = ui.available_width();
    let (strip, _) = ui.allocate_exact_size(vec2(room, TAPE), Sense::hover());
    let longest = |cut: &Cut| cut.length.max(cut.rule_of_thumb);
    let scale = Scale {
        left: strip.left() + WORDS,
        right: strip.right() - BEHIND,
        most: list.cuts.iter().map(longest).fold(1.0, f64::max) * 1.02,
    };
    let theme = Theme::of(ui);
    tape(
        ui.painter(),
        scale,
        strip.bottom() - 6.0,
        view.units,
        &theme,
    );
    for (number, cut) in list.cuts.iter().enumerate() {
        cut_ui(ui, view, (number, cut), scale, state);
    }
    let rules = list.cuts.iter().map(|cut| cut.rule_of_thumb);
    let rule = rules.fold(0.0, f64::max);
    let top = strip.bottom() - 12.0;
    legend_ui(ui, view, scale, rule, top);
    for words in &list.notes {
        Role::Note.label(ui, words);
    }
    lacking_ui(ui, &view.plan.shopping.lacking);
}

fn head_ui(ui: &mut Ui, view: CutView<'_>, wants: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        Role::Section.label(ui, "Cut");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let mut folded = view.design.piece.folded;
            let words = [(false, "single"), (true, "folded")];
            if segments(ui, "lengths", &mut folded, &words) {
                wants.push(Command::Edit(Edit::Piece(PieceEdit::Folded(folded))));
            }
            ui.add_space(8.0);
            let note = Role::Note.text(ui, summary(view));
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.add(Label::new(note).truncate());
            });
        });
    });
}

/// What is cut, in a sentence.
fn summary(view: CutView<'_>) -> String {
    let list = &view.plan.cut;
    let lengths: u32 = list.cuts.iter().map(|cut| cut.count).sum();
    let strands = view.design.strands.len();
    let about = if view.is_about {
        "about so, a first answer: "
    } else {
        ""
    };
    let noun = if lengths == 1 { "length" } else { "lengths" };
    let pairs = list.cuts.iter().flat_map(|cut| &cut.strands);
    let pairs = pairs.filter(|group| group.len() == 2).count();
    if pairs > 0 {
        return format!(
            "{about}{lengths} {noun}; those folded at the middle make two strands without a loose end"
        );
    }
    format!("{about}{lengths} {noun} for {strands} strands")
}

/// One line of the list, and its steps while they are asked for.
fn cut_ui(
    ui: &mut Ui,
    view: CutView<'_>,
    (number, cut): (usize, &Cut),
    scale: Scale,
    state: &mut CutState,
) {
    let words = spoken(view, cut);
    let is_done = state.done.contains(&words);
    let tall = if view.plan.cut.cuts.len() > FEW {
        LOW_ROW
    } else {
        ROW
    };
    let (row, _) = ui.allocate_exact_size(vec2(ui.available_width(), tall), Sense::hover());
    let pressed = row.with_max_x(row.right() - 34.0);
    let response = ui.interact(pressed, ui.scope_id().with(("cut", number)), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Part::ListItem, true, is_done, &words));
    let theme = Theme::of(ui);
    ground(ui, pressed, &response, &theme);
    words_of(ui.painter(), row, view, cut, is_done, &theme);
    lengths_of(ui.painter(), row, cut, scale, is_done, &theme);
    if response.clicked() && !state.done.remove(&words) {
        state.done.insert(words);
    }
    let corner = pos2(row.right() - 28.0, row.top() + 22.0);
    let place = Rect::from_min_size(corner, vec2(26.0, 26.0));
    let is_open = state.opened == Some(number);
    let builder = UiBuilder::new().max_rect(place).id_salt(("how", number));
    let name = format!("how {} comes about", named::length(cut.length, view.units));
    let icon = if is_open { Icon::Up } else { Icon::Down };
    let how = ui
        .new_child(builder)
        .add(IconButton::new(icon, &name).small());
    if how.clicked() {
        state.opened = (!is_open).then_some(number);
    }
    if is_open {
        opened_ui(ui, view, cut);
    }
}

fn ground(ui: &Ui, rect: Rect, response: &Response, theme: &Theme) {
    let edge = rect.expand2(vec2(10.0, -2.0));
    if response.hovered() {
        ui.painter().rect_filled(edge, 8.0, theme.well);
    }
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(ui.painter(), edge.shrink(4.0), 6.0, theme);
    }
}

/// The line as it is read out.
fn spoken(view: CutView<'_>, cut: &Cut) -> String {
    let lengths = if cut.count == 1 { "length" } else { "lengths" };
    let left = named::length(cut.left_over, view.units);
    let where_left = if cut.is_folded() {
        "at each end"
    } else {
        "at its end"
    };
    format!(
        "cut {} {lengths} of {}, {}, for {}, {}; {left} left over {where_left}",
        cut.count,
        named::length(cut.length, view.units),
        named::make(&cut.makes),
        named::strands(&cut.strands, view.design),
        named::slots(&cut.strands, view.design),
    )
}

/// How many, how long, of what, for which strands.
fn words_of(
    painter: &Painter,
    row: Rect,
    view: CutView<'_>,
    cut: &Cut,
    is_done: bool,
    theme: &Theme,
) {
    let at = row.min + vec2(0.0, 6.0);
    let count = format!("{} ×", cut.count);
    let drawn = painter.text(
        at + vec2(0.0, 6.0),
        Align2::LEFT_TOP,
        count,
        Face::Medium.at(14.0),
        theme.ink,
    );
    let length = named::length(cut.length, view.units);
    let beside = pos2(drawn.right() + 8.0, at.y);
    let drawn = painter.text(
        beside,
        Align2::LEFT_TOP,
        length,
        Face::Figures.at(21.0),
        theme.ink,
    );
    if is_done {
        let at = pos2(drawn.right() + 14.0, drawn.center().y);
        Icon::Check.paint(painter, at, 16.0, theme.ok);
    }
    let room = WORDS - 14.0;
    let line = |words: String, font, colour, y: f32| {
        let galley = one_line(painter, words, font, colour, room);
        painter.galley(at + vec2(0.0, y), galley, colour);
    };
    line(
        named::make(&cut.makes),
        Face::Semibold.at(13.0),
        theme.ink,
        29.0,
    );
    let strands = named::strands(&cut.strands, view.design);
    let slots = named::slots(&cut.strands, view.design);
    let which = [strands, slots].join(" · ");
    let which = which.trim_end_matches(" · ").to_owned();
    line(which, Role::Smallest.font(), theme.ink2, 47.0);
}

/// One line of words, cut off with an ellipsis where there is no more room.
pub(super) fn one_line(
    painter: &Painter,
    words: String,
    font: eframe::egui::FontId,
    colour: Color32,
    room: f32,
) -> std::sync::Arc<eframe::egui::Galley> {
    let mut job = eframe::egui::text::LayoutJob::simple_singleline(words, font, colour);
    job.wrap = eframe::egui::text::TextWrapping::truncate_at_width(room);
    painter.layout_job(job)
}

/// The lengths themselves, what is left over hatched, the fold as a stitch.
fn lengths_of(painter: &Painter, row: Rect, cut: &Cut, scale: Scale, is_done: bool, theme: &Theme) {
    let ends: Vec<Color32> = cut
        .makes
        .parts
        .iter()
        .flat_map(|part| std::iter::repeat_n(paint(part.colour), part.ends.into()))
        .collect();
    let bars = (cut.strands.len() * ends.len().max(1)).clamp(1, MOST_BARS);
    let tall = if bars == 1 {
        15.0
    } else {
        (52.0 / bars as f32 - 4.0).clamp(7.0, 15.0)
    };
    let whole = bars as f32 * (tall + 4.0) - 4.0;
    let middle = row.top() + 36.0;
    for bar in 0..bars {
        let y = middle - whole / 2.0 + bar as f32 * (tall + 4.0);
        let rect = Rect::from_min_max(pos2(scale.left, y), pos2(scale.x(cut.length), y + tall));
        let colour = ends.get(bar % ends.len().max(1)).copied();
        let colour = colour.unwrap_or(theme.line2);
        thread_bar(painter, rect, colour, theme);
        for end in left_of(rect, cut, scale) {
            left_over(painter, end, colour, theme);
        }
        if is_done {
            painter.rect_filled(rect.expand(1.0), 4.0, theme.paper.gamma_multiply(0.5));
        }
    }
    if cut.is_folded() {
        let x = scale.x(cut.length / 2.0);
        let line = [
            pos2(x, middle - whole / 2.0 - 6.0),
            pos2(x, middle + whole / 2.0 + 6.0),
        ];
        painter.extend(stitch::dashed(&line, stitch::LINK, theme.thread));
    }
    let (from, to) = (scale.x(cut.length) + 5.0, scale.x(cut.rule_of_thumb) - 4.0);
    if to > from {
        let leader = [pos2(from, middle), pos2(to, middle)];
        painter.extend(stitch::dotted(&leader, 1.6, 5.0, theme.line2));
    }
}

/// The ends of a bar that cannot be braided.
fn left_of(bar: Rect, cut: &Cut, scale: Scale) -> Vec<Rect> {
    let wide = (scale.x(cut.left_over) - scale.left).min(bar.width() / 2.0);
    let last = bar.with_min_x(bar.right() - wide);
    if cut.is_folded() {
        return vec![bar.with_max_x(bar.left() + wide), last];
    }
    vec![last]
}

/// The steps to one length.
fn opened_ui(ui: &mut Ui, view: CutView<'_>, cut: &Cut) {
    ui.horizontal(|ui| {
        ui.add_space(WORDS);
        ui.vertical(|ui| {
            ui.set_max_width((ui.available_width() - 40.0).min(460.0));
            ui.spacing_mut().item_spacing.y = 4.0;
            steps::steps_ui(ui, &cut.chain, "one strand", view.units);
            let sure = crate::app::words::number(100.0 * view.plan.cut.sure);
            let reason = format!("so that {sure} of 100 are long enough");
            let reserve = Estimate::exact(cut.reserve).length(view.units);
            steps::step_ui(ui, ["kept in hand", &reason], ("+", &reserve), Face::Medium);
            let words = if cut.is_folded() {
                "twice that, to the next mark"
            } else {
                "to the next mark"
            };
            let length = Estimate::exact(cut.length).length(view.units);
            steps::step_ui(ui, ["cut", words], ("", &length), Face::Bold);
            ui.add_space(10.0);
        });
    });
}

/// What the hatching and the stitch mean, and where the everyday rule would cut.
fn legend_ui(ui: &mut Ui, view: CutView<'_>, scale: Scale, rule: f64, top: f32) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 30.0), Sense::hover());
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let x = scale.x(rule);
    let dashes = |x: f32, from: f32, to: f32| {
        for k in 0..((to - from) / 8.0) as u32 {
            let y = from + 8.0 * k as f32;
            painter.vline(x, y..=y + 4.5, Stroke::new(1.4, theme.ink2));
        }
    };
    dashes(x, top, rect.top() + 4.0);
    let length = named::length(10.0 * (rule / 10.0).round(), view.units);
    let cuts = &view.plan.cut.cuts;
    let longest = cuts.iter().map(|cut| cut.length).fold(0.0, f64::max);
    let mut at = pos2(scale.left, rect.top() + 16.0);
    let small = Role::Smallest.font();
    let put = |at: Pos2, words: &str| {
        let drawn = painter.text(at, Align2::LEFT_CENTER, words, small.clone(), theme.ink2);
        drawn.right()
    };
    let sample = Rect::from_min_size(at - vec2(0.0, 6.0), vec2(24.0, 12.0));
    left_over(painter, sample, theme.line2, &theme);
    let left = cuts.iter().map(|cut| cut.left_over).fold(0.0, f64::max);
    let left = named::length(left, view.units);
    at.x = put(
        at + vec2(32.0, 0.0),
        &format!("left over: {left} that cannot be braided"),
    ) + 20.0;
    if cuts.iter().any(Cut::is_folded) {
        let stitch_line = [at - vec2(0.0, 8.0), at + vec2(0.0, 8.0)];
        painter.extend(stitch::dashed(&stitch_line, stitch::LINK, theme.thread));
        at.x = put(at + vec2(8.0, 0.0), "fold") + 20.0;
    }
    if rule > longest {
        let beside = pos2(x + 8.0, rect.top() - 24.0);
        painter.text(
            beside,
            Align2::LEFT_CENTER,
            length,
            Face::Figures.at(16.0),
            theme.ink2,
        );
        put(beside + vec2(0.0, 18.0), "three times,");
        put(beside + vec2(0.0, 33.0), "the everyday rule");
    } else {
        dashes(at.x, at.y - 8.0, at.y + 9.0);
        put(
            at + vec2(8.0, 0.0),
            &format!("{length}: three times, the everyday rule"),
        );
    }
}

fn lacking_ui(ui: &mut Ui, lacking: &[String]) {
    if lacking.is_empty() {
        return;
    }
    ui.add_space(6.0);
    Notice {
        tone: Tone::Caution,
        happened: "The shelf does not reach for this piece.",
        kept: &lacking.join("\n"),
        advice: "",
    }
    .show(ui);
}
