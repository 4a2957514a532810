//! The card of one look: a small cord, and which strands have which colour.

use std::sync::Arc;

use eframe::egui::{
    Color32, Id, Label, Rect, Response, Sense, Stroke, StrokeKind, Ui, Vec2, pos2, vec2,
};

use crate::app::controls::Pick;
use crate::app::desk::Desk;
use crate::app::easel::{Easel, Looking, Subject};
use crate::app::fonts::{Face, Role};
use crate::app::painting::{Scene, dressed, plain, screen_colour, threads};
use crate::app::theme::Theme;
use crate::app::words;
use crate::cord::Cord;
use crate::document::strand_name;
use crate::drawing::{Bend, Thread, View};
use crate::pattern::{Arrangement, Worn};

use super::super::structures::{dotted, ground};
use super::listed::Listed;

/// Height of the cord on a card of the page.
pub(super) const PICTURE: f32 = 40.0;
/// Height of a card of the page.
pub(super) const CARD: f32 = PICTURE + 44.0;

/// Most letters beside a dot.
const MOST_LETTERS: usize = 9;

/// What all cards have in common.
pub(super) struct Wardrobe<'a> {
    pub(super) listed: &'a Listed,
    worn: &'a Worn,
    desk: &'a Desk<'a>,
    threads: Arc<[Thread]>,
    names: Vec<String>,
    /// The look that the design has.
    chosen: Option<usize>,
}

impl<'a> Wardrobe<'a> {
    /// For looks of what is worn.
    pub(super) fn new(listed: &'a Listed, worn: &'a Worn, desk: &'a Desk<'a>) -> Self {
        let colours: Vec<_> = worn.sets.iter().map(|set| set[0]).collect();
        Self {
            listed,
            worn,
            desk,
            threads: threads(desk.design).into(),
            names: words::colours(&colours),
            chosen: listed.place_of(&worn.now),
        }
    }

    /// The wall for cords of a size, if there is a cord to show.
    pub(super) fn wall<'b>(
        &self,
        ui: &Ui,
        size: Vec2,
        easel: &'b mut Easel,
    ) -> Option<Looking<'b>> {
        let cord = self.desk.solver.solved().cord()?;
        let scene = scene(ui, cord, size);
        (cord.form.strands == self.threads.len()).then(|| {
            easel.wall(Subject {
                cord: Arc::clone(cord),
                scene,
                threads: Arc::clone(&self.threads),
                palette: self.worn.sets.clone(),
            })
        })
    }

    pub(super) fn arrangement(&self, place: usize) -> &Arrangement {
        &self.listed.looks[place].arrangement
    }

    fn dressed(&self, place: usize) -> Vec<Thread> {
        let strands = &self.desk.design.strands;
        let colours = self.worn.colours(self.arrangement(place), strands);
        dressed(&self.threads, &colours)
    }

    /// Asks for the picture of a look that is not in sight yet.
    pub(super) fn prepare(&self, place: usize, wall: &mut Looking<'_>) {
        wall.picture(&self.arrangement(place).0, || self.dressed(place));
    }

    fn picture_ui(&self, ui: &mut Ui, place: usize, size: Vec2, wall: &mut Looking<'_>) {
        let (spot, _) = ui.allocate_exact_size(size, Sense::hover());
        match wall.picture(&self.arrangement(place).0, || self.dressed(place)) {
            Some(texture) => {
                let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
                ui.painter().image(texture.id(), spot, uv, Color32::WHITE);
            }
            None => dotted(ui, spot),
        }
    }

    /// "look 2 of 34: two spirals, Z; strands A and E teal".
    fn spoken(&self, place: usize) -> String {
        let look = &self.listed.looks[place];
        let words = look.words.as_ref().map(|words| words.sentence.as_str());
        let words = words.map_or_else(String::new, |words| format!("{words}; "));
        let strands = self.strands(place).into_iter().map(|(set, strands)| {
            let letters: Vec<String> = strands.iter().map(|&s| strand_name(s)).collect();
            format!("{} {}", letters.join(" "), self.names[usize::from(set)])
        });
        let strands = strands.collect::<Vec<_>>().join(", ");
        let of = self.listed.looks.len();
        let chosen = if self.chosen == Some(place) {
            ", chosen"
        } else {
            ""
        };
        format!("look {} of {of}: {words}{strands}{chosen}", place + 1)
    }

    /// The colours that are worn with the strands that wear them, the fewest first.
    fn strands(&self, place: usize) -> Vec<(u8, Vec<usize>)> {
        let arrangement = self.arrangement(place);
        let sets = (0..self.worn.sets.len()).map(|set| set as u8);
        let strands = sets.map(|set| (set, arrangement.strands_of(set)));
        let mut strands: Vec<_> = strands.filter(|(_, strands)| !strands.is_empty()).collect();
        strands.sort_by_key(|(_, strands)| strands.len());
        strands
    }
}

/// A look of the design's own cord, straight.
fn scene(ui: &Ui, cord: &Cord, size: Vec2) -> Scene {
    let pixels = ui.ctx().pixels_per_point();
    let size = (size * pixels).round().max(Vec2::splat(1.0));
    let figures = &cord.figures;
    let thickness = figures
        .thickness_on_disc
        .value
        .max(figures.width_rested.value);
    Scene {
        view: View {
            width: size.x as usize,
            height: size.y as usize,
            pixels_per_mm: 0.72 * f64::from(size.y) / thickness.max(0.1),
            start_mm: 0.0,
            roll: 0.0,
            centre_x: 0.0,
            centre_y: 0.47 * f64::from(size.y),
            bend: Bend::Straight,
        },
        ground: plain(&Theme::of(ui), ground(ui, false)),
    }
}

/// What the keyboard calls a card.
pub(super) fn id(arrangement: &Arrangement) -> Id {
    Id::unique(("look", &arrangement.0))
}

/// A cord and nothing else; whether it is to be tried on.
pub(super) fn small_card_ui(
    ui: &mut Ui,
    place: usize,
    size: Vec2,
    wardrobe: &Wardrobe<'_>,
    wall: &mut Looking<'_>,
) -> bool {
    let response = shown(ui, place, size, wardrobe, |ui| {
        wardrobe.picture_ui(ui, place, small_picture_size(size), wall);
    });
    clicked(ui, &response)
}

/// The card on the page; whether it is to be tried on.
pub(super) fn card_ui(
    ui: &mut Ui,
    place: usize,
    width: f32,
    wardrobe: &Wardrobe<'_>,
    wall: &mut Looking<'_>,
) -> bool {
    let response = shown(ui, place, vec2(width, CARD), wardrobe, |ui| {
        wardrobe.picture_ui(ui, place, picture_size(width), wall);
        ui.add_space(2.0);
        strands_ui(ui, place, wardrobe);
    });
    clicked(ui, &response)
}

/// Size of the cord on a card that shows nothing else.
pub(super) fn small_picture_size(card: Vec2) -> Vec2 {
    card - vec2(20.0, 16.0)
}

/// Size of the cord on a card of the page.
pub(super) fn picture_size(width: f32) -> Vec2 {
    vec2(width - 20.0, PICTURE)
}

fn shown(
    ui: &mut Ui,
    place: usize,
    size: Vec2,
    wardrobe: &Wardrobe<'_>,
    content: impl FnOnce(&mut Ui),
) -> Response {
    let is_chosen = wardrobe.chosen == Some(place);
    let id = id(wardrobe.arrangement(place));
    let name = wardrobe.spoken(place);
    let card = Pick::card(&name, is_chosen, size).bare().id(id);
    // Under the pointer only: on the way of the keyboard it would cover the next ones.
    card.show(ui, content)
        .on_hover_text(Role::Note.text(ui, name.as_str()))
}

/// A click gives the keyboard to the card, so that arrows go on from it.
fn clicked(ui: &Ui, response: &Response) -> bool {
    if response.clicked() {
        ui.memory_mut(|memory| memory.request_focus(response.id));
    }
    response.clicked()
}

/// A dot for each colour with the strands that wear it; of the last, which most do, the
/// dot alone.
fn strands_ui(ui: &mut Ui, place: usize, wardrobe: &Wardrobe<'_>) {
    let strands = wardrobe.strands(place);
    let last = strands.len().saturating_sub(1);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (at, (set, strands)) in strands.iter().enumerate() {
            if at > 0 {
                ui.add_space(6.0);
            }
            dot(ui, screen_colour(wardrobe.worn.sets[usize::from(*set)][0]));
            let words = if at == last && at > 0 {
                "rest".to_owned()
            } else {
                letters(strands)
            };
            let text = Role::Note.text(ui, words).font(Face::Regular.at(12.5));
            ui.add(Label::new(text).truncate());
        }
    });
}

/// Letters of strands, of many the first.
fn letters(strands: &[usize]) -> String {
    let most = if strands.len() > MOST_LETTERS {
        MOST_LETTERS - 2
    } else {
        MOST_LETTERS
    };
    let more = if strands.len() > most {
        " \u{2026}"
    } else {
        ""
    };
    let letters: Vec<String> = strands.iter().take(most).map(|&s| strand_name(s)).collect();
    format!("{}{more}", letters.join(" "))
}

fn dot(ui: &mut Ui, colour: Color32) {
    let (spot, _) = ui.allocate_exact_size(vec2(12.0, 12.0), Sense::hover());
    let rim = Stroke::new(1.0, colour.lerp_to_gamma(Color32::BLACK, 0.4));
    ui.painter()
        .rect(spot.shrink(1.0), 5.0, colour, rim, StrokeKind::Inside);
}
