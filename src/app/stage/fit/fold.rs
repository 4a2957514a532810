//! Rows that say in a few words what is decided, and unfold to change it.

use eframe::egui::{
    Align2, Id, Role as Part, Sense, Stroke, Ui, WidgetInfo, pos2, text::LayoutJob,
    text::TextWrapping, vec2,
};

use crate::app::controls::{keyboard_leads, segments};
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::document::Piece;

/// What of the piece is unfolded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Fold {
    /// Other measures to start from.
    Measure,
    /// What closes it.
    Closure,
    /// How its ends are finished.
    Ends,
    /// How they are bound.
    Binding,
    /// What hangs on it and who wears it.
    Worn,
    /// How many are made.
    Many,
}

/// How the stage is looked at; kept by the toolkit from frame to frame.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct FitState {
    /// What is unfolded, one at a time.
    pub(super) open: Option<Fold>,
    /// Whether the sum is written out.
    pub(super) steps: bool,
    /// Which end is drawn, 0 or 1.
    pub(super) end: usize,
}

impl FitState {
    fn id() -> Id {
        Id::unique("fit state")
    }

    /// As it was left.
    pub(super) fn of(ui: &Ui) -> Self {
        ui.data(|data| data.get_temp(Self::id()))
            .unwrap_or_default()
    }

    /// Left so.
    pub(super) fn keep(self, ui: &Ui) {
        ui.data_mut(|data| data.insert_temp(Self::id(), self));
    }

    /// The end that is drawn: ends alike are drawn once.
    pub(super) fn shown(self, piece: &Piece) -> usize {
        let [first, last] = piece.ends;
        if first == last { 0 } else { self.end.min(1) }
    }
}

/// Which end is drawn, where they differ; the height that takes.
pub(super) fn ends_ui(ui: &mut Ui, piece: &Piece, shown: usize) -> f32 {
    if piece.ends[0] == piece.ends[1] {
        return 0.0;
    }
    let mut end = shown;
    let words = [(0, "first end"), (1, "last end")];
    if segments(ui, "end that is drawn", &mut end, &words) {
        let state = FitState {
            end,
            ..FitState::of(ui)
        };
        state.keep(ui);
    }
    ui.add_space(6.0);
    42.0
}

/// A row of the sheet, and under it `contents` while it is unfolded.
pub(super) fn fold_ui(
    ui: &mut Ui,
    state: &mut FitState,
    fold: Fold,
    [name, words, note]: [&str; 3],
    contents: impl FnOnce(&mut Ui),
) {
    let is_open = state.open == Some(fold);
    let tall = if note.is_empty() { 36.0 } else { 50.0 };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), tall), Sense::click());
    response.widget_info(|| {
        let said = format!("{name}: {words} {note}");
        WidgetInfo::selected(Part::Button, true, is_open, said.trim_end())
    });
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let edge = rect.expand2(vec2(10.0, -1.0));
    if response.hovered() {
        painter.rect_filled(edge, 8.0, theme.well);
    }
    painter.hline(rect.x_range(), rect.top(), Stroke::new(1.0, theme.line));
    let y = rect.top() + 18.0;
    let font = Role::Text.font();
    let drawn = painter.text(
        pos2(rect.left(), y),
        Align2::LEFT_CENTER,
        name,
        font,
        theme.ink,
    );
    let icon = if is_open { Icon::Up } else { Icon::Down };
    icon.paint(painter, pos2(rect.right() - 8.0, y), 15.0, theme.ink2);
    let right = rect.right() - 22.0;
    let put = |words: &str, font, colour, left: f32, y: f32| {
        let mut job = LayoutJob::simple_singleline(words.to_owned(), font, colour);
        job.wrap = TextWrapping::truncate_at_width((right - left).max(20.0));
        let galley = painter.layout_job(job);
        let size = galley.size();
        painter.galley(pos2(right - size.x, y - size.y / 2.0), galley, colour);
    };
    put(
        words,
        Face::Semibold.at(14.0),
        theme.ink,
        drawn.right() + 10.0,
        y,
    );
    put(note, Role::Note.font(), theme.ink2, rect.left(), y + 19.0);
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, edge.shrink(4.0), 6.0, &theme);
    }
    if response.clicked() {
        state.open = (!is_open).then_some(fold);
    }
    if is_open {
        ui.push_id(fold, |ui| {
            ui.spacing_mut().item_spacing.y = 6.0;
            contents(ui);
            ui.add_space(8.0);
        });
    }
}
