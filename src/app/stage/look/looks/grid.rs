//! All looks in rows under their heads. Only what is in sight is drawn; what comes next
//! is painted ahead.

use eframe::egui::{Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};

use crate::app::command::Command;
use crate::app::desk::Desk;
use crate::app::easel::{Easel, Looking};
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::pattern::Worn;

use super::super::LookView;
use super::card::{CARD, Wardrobe, card_ui, picture_size};
use super::listed::Listed;
use super::walk::walk;

/// The least a card is wide.
const LEAST_WIDTH: f32 = 206.0;
/// Between cards.
const GAP: f32 = 4.0;
/// Height of a head.
const HEAD: f32 = 34.0;
/// Where the cords would stand.
pub(super) const NO_CORD: &str = "They are shown as soon as there is a cord.";
/// Rows that are painted before they are in sight.
const AHEAD: usize = 6;

/// A row, and where it stands.
#[derive(Debug, Clone, PartialEq)]
struct Row {
    /// Its upper edge, from the top of all.
    top: f32,
    what: What,
}

#[derive(Debug, Clone, PartialEq)]
enum What {
    /// Words, and how many looks they are for.
    Head(String, usize),
    /// The looks of a row.
    Looks(Vec<usize>),
}

impl Row {
    fn height(&self) -> f32 {
        match &self.what {
            What::Head(..) => HEAD,
            What::Looks(_) => CARD + GAP,
        }
    }

    fn is_within(&self, sight: Rect) -> bool {
        self.top < sight.bottom() && self.top + self.height() > sight.top()
    }

    fn looks(&self) -> &[usize] {
        match &self.what {
            What::Head(..) => &[],
            What::Looks(looks) => looks,
        }
    }
}

/// All rows, one below the other.
fn rows(listed: &Listed, columns: usize) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    let mut put = |what| {
        let top = rows.last().map_or(0.0, |row: &Row| row.top + row.height());
        rows.push(Row { top, what });
    };
    for head in &listed.heads {
        if !head.words.is_empty() {
            put(What::Head(head.words.clone(), head.looks.len()));
        }
        let looks: Vec<usize> = head.looks.clone().collect();
        looks
            .chunks(columns)
            .for_each(|row| put(What::Looks(row.to_vec())));
    }
    rows
}

/// The grid, in what is left of the page, with `above` rolling with it.
pub(super) fn grid_ui(
    ui: &mut Ui,
    above: impl FnOnce(&mut Ui),
    worn: &Worn,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let Some(listed) = view.looks.listed.clone() else {
        return;
    };
    let room = ui.available_width() - 14.0;
    let columns = ((room + GAP) / (LEAST_WIDTH + GAP)).floor().max(1.0);
    let width = (room - GAP * (columns - 1.0)) / columns;
    let rows = rows(&listed, columns as usize);
    let walked: Vec<Vec<usize>> = rows.iter().map(|row| row.looks().to_vec()).collect();
    let walked: Vec<Vec<usize>> = walked.into_iter().filter(|row| !row.is_empty()).collect();
    walk(ui, &walked, &listed, worn, desk, view, wants);
    let wardrobe = Wardrobe::new(&listed, worn, desk);
    let Some(mut wall) = wardrobe.wall(ui, picture_size(width), easel) else {
        Role::Note.label(ui, NO_CORD);
        return;
    };
    let brings = view.looks.brings.take();
    let kept = kept(ui, &listed, brings.as_ref());
    let area = ScrollArea::vertical()
        .auto_shrink(false)
        .id_salt("looks")
        .animated(false);
    let tried = area.show_viewport(ui, |ui, sight| {
        let top = ui.max_rect().min;
        above(ui);
        let used = (ui.min_rect().bottom() - top.y).max(0.0);
        let height = rows.last().map_or(0.0, |row| row.top + row.height());
        ui.set_min_height(used + height);
        let (origin, sight) = (top + vec2(0.0, used), sight.translate(vec2(0.0, -used)));
        let mut tried = None;
        for row in &rows {
            let holds = |place: Option<usize>| place.is_some_and(|it| row.looks().contains(&it));
            if !row.is_within(sight) && !holds(kept) {
                continue;
            }
            let at = Rect::from_min_size(origin + vec2(0.0, row.top), vec2(room, row.height()));
            if brings.is_some() && holds(kept) {
                ui.scroll_to_rect(at.expand(HEAD), None);
            }
            tried = tried.or(row_ui(ui, at, row, width, &wardrobe, &mut wall));
        }
        prepare(&rows, sight, &wardrobe, &mut wall);
        tried
    });
    drop(wall);
    if let Some(place) = tried.inner {
        super::try_on(&listed.looks[place].arrangement, worn, desk, view, wants);
    }
}

/// The look that is drawn wherever it is: the one with the keyboard.
fn kept(ui: &Ui, listed: &Listed, brings: Option<&crate::pattern::Arrangement>) -> Option<usize> {
    let focused = ui.memory(|memory| memory.focused());
    let is_it = |arrangement: &crate::pattern::Arrangement| match brings {
        Some(brought) => brought == arrangement,
        None => focused == Some(super::card::id(arrangement)),
    };
    focused?;
    listed
        .looks
        .iter()
        .position(|look| is_it(&look.arrangement))
}

/// One row; the look that is to be tried on, if any.
fn row_ui(
    ui: &mut Ui,
    at: Rect,
    row: &Row,
    width: f32,
    wardrobe: &Wardrobe<'_>,
    wall: &mut Looking<'_>,
) -> Option<usize> {
    let mut tried = None;
    match &row.what {
        What::Head(words, count) => head_ui(ui, at, words, *count),
        What::Looks(looks) => {
            for (column, &place) in looks.iter().enumerate() {
                let left = at.left() + column as f32 * (width + GAP);
                let spot = Rect::from_min_size(pos2(left, at.top()), vec2(width, CARD));
                let builder = UiBuilder::new().max_rect(spot).id_salt(("look", place));
                let mut ui = ui.new_child(builder);
                if card_ui(&mut ui, place, width, wardrobe, wall) {
                    tried = Some(place);
                }
            }
        }
    }
    tried
}

fn head_ui(ui: &mut Ui, at: Rect, words: &str, count: usize) {
    let builder = UiBuilder::new()
        .max_rect(at.with_min_y(at.top() + 8.0))
        .id_salt(("head", words));
    ui.scope_builder(builder, |ui| {
        ui.horizontal(|ui| {
            let mut letters = words.chars();
            let first = letters.next().map(|letter| letter.to_uppercase());
            let words: String = first.into_iter().flatten().chain(letters).collect();
            let text = Role::Label.text(ui, words).font(Face::Bold.at(13.5));
            ui.label(text.color(Theme::of(ui).ink));
            Role::Note.label(ui, count.to_string());
        });
    });
}

/// Asks for the pictures of the rows that come next, below and then above.
fn prepare(rows: &[Row], sight: Rect, wardrobe: &Wardrobe<'_>, wall: &mut Looking<'_>) {
    let below = rows
        .iter()
        .filter(|row| row.top >= sight.bottom())
        .take(AHEAD);
    let above = rows
        .iter()
        .rev()
        .filter(|row| row.top + row.height() <= sight.top())
        .take(AHEAD);
    for row in below.chain(above) {
        for &place in row.looks() {
            wardrobe.prepare(place, wall);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::search::tests::{asked, found};
    use super::*;
    use crate::pattern::Choice;

    #[test]
    fn every_look_stands_in_one_row_under_its_head() {
        let listed = found(&asked(8, Choice::counts(&[4, 2, 2])));
        let rows = rows(&listed, 5);
        let all: Vec<usize> = rows.iter().flat_map(|row| row.looks().to_vec()).collect();
        assert_eq!(
            all,
            (0..listed.looks.len()).collect::<Vec<_>>(),
            "in order, once"
        );
        for pair in rows.windows(2) {
            assert_eq!(pair[1].top, pair[0].top + pair[0].height(), "no gap");
        }
        let heads = rows.iter().filter(|row| matches!(row.what, What::Head(..)));
        assert_eq!(heads.count(), listed.heads.len());
        assert!(rows.iter().all(|row| row.looks().len() <= 5));
    }
}
