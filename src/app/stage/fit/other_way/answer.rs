//! One answer: a small picture of its cord, what changes, how thick it comes out and what
//! it takes.

use std::sync::Arc;

use eframe::egui::{
    Align2, Color32, FontId, Galley, Id, Pos2, Rect, Ui, Vec2, pos2, text::LayoutJob, vec2,
};

use super::search::Found;
use crate::app::controls::Pick;
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::{Face, Role};
use crate::app::stage::cut::amount;
use crate::app::stage::look::{sample_dots, sample_ground, sample_order};
use crate::app::theme::Theme;
use crate::plan::Prices;
use crate::plan::wish::How;
use crate::quantity::Money;

/// The cord's picture.
const PICTURE: Vec2 = vec2(76.0, 34.0);
/// Room for the figure at the right.
const FIGURE: f32 = 84.0;
/// Between these and the words.
const GAP: f32 = 12.0;

/// Draws the row; whether it is to be tried on.
pub(super) fn answer_ui(
    ui: &mut Ui,
    place: usize,
    found: &Found,
    (is_tried, dearer): (bool, Option<Money>),
    desk: &Desk<'_>,
    easel: &mut Easel,
) -> bool {
    let words = Words::of(found, dearer, desk);
    let width = ui.available_width() - PICTURE.x - FIGURE - 2.0 * GAP;
    let theme = Theme::of(ui);
    let [title, note] = [
        (&words.title, Face::Semibold.at(14.0), theme.ink),
        (&words.note, Role::Note.font(), theme.ink2),
    ]
    .map(|(text, font, colour)| galley(ui, text, font, colour, width));
    let tall = (title.size().y + note.size().y).max(PICTURE.y);
    let spoken = words.spoken(place, is_tried);
    let row = Pick::row(&spoken, is_tried, tall + 18.0).id(id(place));
    let response = row.show(ui, |ui| {
        let rect = ui.max_rect();
        let middle = rect.left_center() + vec2(0.5 * PICTURE.x, 0.0);
        picture_ui(
            ui,
            place,
            found,
            Rect::from_center_size(middle, PICTURE),
            easel,
        );
        let corner = pos2(rect.left() + PICTURE.x + GAP, rect.center().y - 0.5 * tall);
        let under = corner + vec2(0.0, title.size().y);
        ui.painter().galley(corner, title, theme.ink);
        ui.painter().galley(under, note, theme.ink2);
        figure_ui(ui, &words, rect.right_center(), &theme);
    });
    let clicked = response.clicked();
    response.on_hover_text(Role::Note.text(ui, words.hover));
    clicked
}

fn id(place: usize) -> Id {
    Id::unique(("the other way round", place))
}

fn galley(ui: &Ui, text: &str, font: FontId, colour: Color32, width: f32) -> Arc<Galley> {
    let mut job = LayoutJob::simple(text.to_owned(), font, colour, width);
    job.wrap.max_rows = 3;
    ui.painter().layout_job(job)
}

/// All that is said of an answer.
struct Words {
    title: String,
    note: String,
    figure: String,
    below: String,
    hover: String,
}

impl Words {
    fn of(found: &Found, dearer: Option<Money>, desk: &Desk<'_>) -> Self {
        let (answer, units) = (&found.answer, desk.units());
        let shown = answer.measure.length(units);
        let about = match answer.how {
            How::About => ", about so",
            How::Solved => "",
        };
        let fit = found
            .fit
            .map_or_else(String::new, |fit| format!(", {}", fit.word()));
        Self {
            title: sentence(&answer.words(units)),
            note: format!("{}{fit}{about}", shown.spread),
            figure: shown.figure,
            below: dearer.map_or_else(
                || thread_words(found.thread),
                |money| cost_words(money, &desk.workshop.prices),
            ),
            hover: format!(
                "{}; click to try it, Esc takes it back",
                answer.look.words()
            ),
        }
    }

    fn spoken(&self, place: usize, is_tried: bool) -> String {
        let tried = if is_tried { ", tried on" } else { "" };
        format!(
            "answer {}: {}; {}, {}; {}{tried}",
            place + 1,
            self.title,
            self.figure,
            self.note,
            self.below
        )
    }
}

/// `5.8 mm` large, and what it takes of thread under it.
fn figure_ui(ui: &Ui, words: &Words, right: Pos2, theme: &Theme) {
    let painter = ui.painter();
    let (up, down) = (right - vec2(0.0, 10.0), right + vec2(0.0, 11.0));
    painter.text(
        up,
        Align2::RIGHT_CENTER,
        &words.figure,
        Role::Value.font(),
        theme.ink,
    );
    let font = Role::Smallest.font();
    painter.text(down, Align2::RIGHT_CENTER, &words.below, font, theme.ink2);
}

fn picture_ui(ui: &Ui, place: usize, found: &Found, spot: Rect, easel: &mut Easel) {
    let cord = found.answer.cord.as_ref();
    let drawn = cord.filter(|cord| cord.form.strands == found.threads.len());
    let key = format!("the other way round {place}");
    let picture = drawn.and_then(|cord| {
        let ground = sample_ground(ui, true);
        easel.small(
            &key,
            sample_order(ui, cord, Arc::clone(&found.threads), spot, ground),
        )
    });
    let Some(texture) = picture else {
        sample_dots(ui, spot);
        return;
    };
    let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    ui.painter().image(texture.id(), spot, uv, Color32::WHITE);
}

/// How much more or less a piece costs.
fn cost_words(dearer: Money, prices: &Prices) -> String {
    let shown = amount(dearer, prices);
    if dearer.rounded(prices.places) == Money::default() {
        return "no cost".to_owned();
    }
    if shown.starts_with('\u{2212}') {
        return shown;
    }
    format!("+{shown}")
}

/// How much more or less thread than now, in words.
fn thread_words(share: f64) -> String {
    let more = 100.0 * (share - 1.0);
    let shown = format!("{:.0}", more.abs());
    if shown == "0" {
        return "same thread".to_owned();
    }
    let sign = if more < 0.0 { '\u{2212}' } else { '+' };
    format!("{sign}{shown} % thread")
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(letters).collect()
}
