//! What the computed lengths save against the everyday rule, or by how much it would
//! have been short.

use eframe::egui::{Rect, Sense, Ui, vec2};

use super::thread_bar::{paint, thread_bar};
use super::{CutView, named};
use crate::app::controls::{Notice, Tone};
use crate::app::fonts::Role;
use crate::app::theme::Theme;
use crate::app::words;
use crate::plan::CutList;

/// The sheet over the price.
pub(super) fn saved_ui(ui: &mut Ui, view: CutView<'_>) {
    ui.spacing_mut().item_spacing.y = 4.0;
    let list = &view.plan.cut;
    if let Some(short) = list.rule_short_by {
        let by = named::length(short, view.units);
        let happened = format!("The everyday rule would have been short by {by}.");
        Notice {
            tone: Tone::Caution,
            happened: &happened,
            kept: "Three times the finished length does not hold for these strands.",
            advice: "Cut what the list says.",
        }
        .show(ui);
    } else {
        let saves = list.saved >= 0.0;
        let words = if saves {
            "Against the everyday rule you save"
        } else {
            "The everyday rule would cut less, and leave less in hand, by"
        };
        Role::Label.label(ui, words);
        figure_ui(ui, view, list);
    }
    let sure = words::number(100.0 * list.sure);
    let reserve = list.cuts.iter().map(|cut| cut.reserve);
    let reserve = named::length(reserve.fold(0.0, f64::max), view.units);
    let told = format!(
        "Long enough {sure} times in 100, with up to {reserve} kept in hand on a strand for what \
         is not certain."
    );
    Role::Note.label(ui, told);
}

fn figure_ui(ui: &mut Ui, view: CutView<'_>, list: &CutList) {
    let shown = named::metres(list.saved.abs(), view.units);
    let (figure, unit) = shown.rsplit_once(' ').unwrap_or((&shown, ""));
    ui.horizontal(|ui| {
        Role::Figure.label(ui, figure);
        Role::Unit.label(ui, format!("{unit} of thread"));
        let room = vec2((ui.available_width() - 8.0).max(60.0), 40.0);
        let (rect, _) = ui.allocate_exact_size(room, Sense::hover());
        compare(ui, rect, list);
    });
}

/// What is cut over what the rule would cut.
fn compare(ui: &Ui, rect: Rect, list: &CutList) {
    let theme = Theme::of(ui);
    let rule = list.metres + list.saved;
    let most = rule.max(list.metres).max(1e-6);
    let wide = rect.width().min(140.0);
    let left = rect.right() - wide;
    let bar = |metres: f64, y: f32| {
        let size = vec2(wide * (metres / most) as f32, 12.0);
        Rect::from_min_size(eframe::egui::pos2(left, rect.top() + y), size)
    };
    let first = list.cuts.first().and_then(|cut| cut.makes.parts.first());
    let colour = first.map_or(theme.line2, |part| paint(part.colour));
    thread_bar(ui.painter(), bar(list.metres, 6.0), colour, &theme);
    thread_bar(
        ui.painter(),
        bar(rule, 24.0),
        theme.line2.gamma_multiply(0.6),
        &theme,
    );
}
