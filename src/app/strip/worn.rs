//! The cord as it is worn: a loop or a necklace on a cloth that unfolds upwards from
//! the strip, over the lower part of the sheets.
//!
//! What is bent is the rested cord as it was solved. The design holds no size of the
//! piece, so it is asked for here; until it is typed it is our guess and says so.

use eframe::egui::{
    self, Align, Area, CursorIcon, Id, Layout as Rows, Order as Height, Rect, Response, Sense,
    Stroke, Ui, UiBuilder, Vec2, WidgetInfo, pos2, vec2,
};

use super::row::{Placed, Row};
use super::{Strip, hand, lit, marks, scale, tape};
use crate::app::controls::{Entered, Field, IconButton, segments};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::marks::standing_ui;
use crate::app::order::{Age, Lane, Order, Sitter};
use crate::app::painting::Scene;
use crate::app::screen::LifeSize;
use crate::app::theme::{Theme, slip_shadow};
use crate::drawing::{Bend, PieceSize, View, piece_size};
use crate::material::Standing;
use crate::quantity::{Length, UnitSystem};

/// How the cord lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Shape {
    /// Straight, on the strip alone.
    #[default]
    Straight,
    /// A loop, as round a wrist.
    Loop,
    /// Hanging from its ends, as round a neck.
    Necklace,
}

/// What the piece is worn as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worn {
    /// How the cord lies.
    pub shape: Shape,
    /// Diameter of what a loop encloses, mm, and whether it was typed.
    inner: (f64, bool),
    /// Length of a necklace from end to end, mm, and whether it was typed.
    length: (f64, bool),
}

impl Default for Worn {
    /// A wide wrist and a necklace that lies below the collar bones; our guess.
    fn default() -> Self {
        Self {
            shape: Shape::Straight,
            inner: (62.0, false),
            length: (450.0, false),
        }
    }
}

/// How far apart the ends of a necklace hang, mm: the width of a neck. Our guess.
const NECK: f64 = 120.0;

/// What may be typed for a loop, mm.
const INNER: (f64, f64) = (10.0, 400.0);
/// What may be typed for a necklace, mm.
const LENGTH: (f64, f64) = (150.0, 2000.0);

/// Times life size at which a piece may be shown, largest first.
const SCALES: [f32; 4] = [1.0, 0.75, 0.5, 0.25];

/// Height of the head over the cloth.
const HEAD: f32 = 46.0;
/// Height of the tape under it.
const TAPE: f32 = 30.0;
/// Room between the piece and the edges of the cloth.
const ROUND: f32 = 18.0;
/// Share of the sheets' height that the cloth takes at most.
const SHARE: f32 = 0.9;

impl Worn {
    /// How the picture bends the cord.
    fn bend(&self) -> Bend {
        match self.shape {
            Shape::Straight => Bend::Straight,
            Shape::Loop => Bend::Loop {
                inner_mm: self.inner.0,
            },
            Shape::Necklace => Bend::Hanging {
                worn_mm: self.length.0,
                span_mm: NECK,
            },
        }
    }

    /// What is to be typed: its name, its value, what it may be.
    fn asked(&mut self) -> (&'static str, &mut (f64, bool), (f64, f64)) {
        match self.shape {
            Shape::Loop => ("inside across", &mut self.inner, INNER),
            Shape::Straight | Shape::Necklace => ("worn length", &mut self.length, LENGTH),
        }
    }
}

/// Words for the three shapes, as they are chosen.
pub(super) fn shapes_ui(ui: &mut Ui, name: &str, worn: &mut Worn) {
    let words = [
        (Shape::Straight, "straight"),
        (Shape::Loop, "a loop"),
        (Shape::Necklace, "a necklace"),
    ];
    segments(ui, name, &mut worn.shape, &words);
}

/// The cloth over the lower part of `above`, while it is unfolded.
pub(super) fn worn_ui(ui: &Ui, above: Rect, life: LifeSize, strip: &mut Strip<'_>) {
    if strip.view.worn.shape == Shape::Straight {
        return;
    }
    let cloth = Cloth::new(above, life, strip);
    let area = Area::new(Id::unique("worn"))
        .order(Height::Middle)
        .fixed_pos(cloth.whole.min);
    area.show(ui.ctx(), |ui| {
        ui.set_clip_rect(above.expand(12.0));
        ui.allocate_exact_size(cloth.whole.size(), Sense::click());
        cloth_ui(ui, &cloth, strip);
    });
}

/// Where the piece can hold the focus.
fn spot() -> Id {
    Id::unique("worn piece")
}

/// How the cloth is laid out.
struct Cloth {
    whole: Rect,
    /// The piece to be shown, and the scale that shows it; none without a rested cord.
    piece: Option<Piece>,
    is_measured: bool,
}

struct Piece {
    row: Row,
    size: PieceSize,
    bend: Bend,
    /// Points to a millimetre, and times life size.
    per_mm: f32,
    times: f32,
}

impl Cloth {
    fn new(above: Rect, life: LifeSize, strip: &Strip<'_>) -> Self {
        let most = above.size() * vec2(1.0, SHARE) - vec2(0.0, HEAD + TAPE);
        let piece = Piece::new(most - Vec2::splat(2.0 * ROUND), life, strip);
        let tall = piece.as_ref().map_or(0.4 * most.y, |it| {
            it.size.height_mm as f32 * it.per_mm + 2.0 * ROUND
        });
        let whole = above.with_min_y(above.bottom() - tall.min(most.y) - HEAD - TAPE);
        let mut cloth = Self {
            whole,
            piece,
            is_measured: life.is_measured,
        };
        let linen = cloth.linen();
        if let Some(piece) = &mut cloth.piece {
            piece.row.rect = linen;
        }
        cloth
    }

    fn linen(&self) -> Rect {
        Rect::from_min_max(
            self.whole.min + vec2(0.0, HEAD),
            self.whole.max - vec2(0.0, TAPE),
        )
    }
}

impl Piece {
    fn new(room: Vec2, life: LifeSize, strip: &Strip<'_>) -> Option<Self> {
        let solver = strip.desk.solver;
        let strands = strip.desk.cord()?.form.strands;
        let form = solver.rested().form().filter(|it| it.strands == strands)?;
        let bend = strip.view.worn.bend();
        let size = piece_size(form, bend, strip.view.turn)?;
        let (wide, tall) = (size.width_mm as f32, size.height_mm as f32);
        let fits = |times: &f32| {
            let per_mm = times * life.per_mm;
            wide * per_mm <= room.x && tall * per_mm <= room.y
        };
        let times = SCALES.into_iter().find(fits).unwrap_or_else(|| {
            // Larger than any scale can show it: as small as it must be.
            (room.x / wide).min(room.y / tall) / life.per_mm
        });
        Some(Self {
            row: Row {
                lane: Lane::Worn,
                sitter: Sitter::Form(form.clone()),
                rect: Rect::NOTHING,
                is_old: solver.shows_old() || solver.rested_is_late(),
            },
            size,
            bend,
            per_mm: times * life.per_mm,
            times,
        })
    }

    fn scene(&self, ui: &Ui, strip: &Strip<'_>) -> Scene {
        let pixels = ui.ctx().pixels_per_point();
        let size = (self.row.rect.size() * pixels)
            .round()
            .max(Vec2::splat(1.0));
        Scene {
            view: View {
                width: size.x as usize,
                height: size.y as usize,
                pixels_per_mm: f64::from(self.per_mm * pixels),
                start_mm: strip.view.along,
                roll: strip.view.turn,
                centre_x: f64::from(size.x) / 2.0,
                centre_y: f64::from(size.y) / 2.0,
                bend: self.bend,
            },
            ground: strip.lying(ui).ground(pixels),
        }
    }
}

fn cloth_ui(ui: &mut Ui, cloth: &Cloth, strip: &mut Strip<'_>) {
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let paper = cloth.whole.with_max_y(cloth.whole.top() + HEAD);
    painter.add(slip_shadow(&theme).as_shape(cloth.whole, 0));
    painter.rect_filled(paper, 0.0, theme.paper);
    painter.hline(paper.x_range(), paper.top(), Stroke::new(1.0, theme.line2));
    painter.rect_filled(cloth.linen(), 0.0, strip.lying(ui).colour());
    head_ui(ui, paper, strip);
    match &cloth.piece {
        Some(piece) => piece_ui(ui, piece, strip, &theme),
        None => {
            let words = strip.desk.solver.rested().hindrance(true);
            let words = words.unwrap_or("the rested cord is being worked out");
            marks::sentence(ui, cloth.linen(), words, &theme);
        }
    }
    let rect = cloth.whole.with_min_y(cloth.whole.bottom() - TAPE);
    tape_ui(ui, rect, cloth, strip.desk.units(), &theme);
}

fn head_ui(ui: &mut Ui, paper: Rect, strip: &mut Strip<'_>) {
    let units = strip.desk.units();
    let builder = UiBuilder::new()
        .max_rect(paper.shrink2(vec2(super::MARGIN, 0.0)))
        .id_salt("worn head")
        .layout(Rows::left_to_right(Align::Center));
    let mut inner = ui.new_child(builder);
    let worn = &mut strip.view.worn;
    shapes_ui(&mut inner, "worn as", worn);
    inner.add_space(8.0);
    size_ui(&mut inner, worn, units);
    inner.with_layout(Rows::right_to_left(Align::Center), |ui| {
        let fold = IconButton::new(Icon::Cross, "Fold it up").tip("Fold it up  Esc");
        if ui.add(fold).clicked() {
            strip.view.worn.shape = Shape::Straight;
        }
    });
}

/// The size of the piece, typed, and how sure it is.
fn size_ui(ui: &mut Ui, worn: &mut Worn, units: UnitSystem) {
    let (name, value, range) = worn.asked();
    let wide = ui.available_width() > 420.0;
    if wide {
        Role::Label.label(ui, name);
    }
    let written = Length::from_mm(value.0).written(units);
    let (shown, unit) = written.rsplit_once(' ').unwrap_or((&written, ""));
    let field = Field::new(name).unit(unit).width(104.0).steps();
    let to = match field.show(ui, shown, |text| read(text, units, range)) {
        Some(Entered::Value(mm)) => mm,
        Some(Entered::Step(steps)) => value.0 + f64::from(steps),
        None => {
            if wide && !value.1 {
                standing_ui(ui, Standing::Guess, "type yours");
            }
            return;
        }
    };
    *value = (to.clamp(range.0, range.1), true);
}

fn read(text: &str, units: UnitSystem, (least, most): (f64, f64)) -> Result<f64, String> {
    let mm = Length::read(text, units)
        .map_err(|error| error.to_string())?
        .mm();
    if (least..=most).contains(&mm) {
        return Ok(mm);
    }
    let [least, most] = [least, most].map(|mm| Length::from_mm(mm).shown(units));
    Err(format!("{least} to {most}"))
}

fn piece_ui(ui: &Ui, piece: &Piece, strip: &mut Strip<'_>, theme: &Theme) {
    let row = &piece.row;
    let scene = piece.scene(ui, strip);
    let response = touch(ui, piece, &scene.view, strip);
    let strands = strip.desk.design.strands.len();
    let is_same = strip.threads.len() == strands;
    let chosen = strip.chosen.iter().filter(|_| is_same);
    let order = Order {
        sitter: row.sitter.clone(),
        threads: strip.threads.clone(),
        scene,
        age: if row.is_old { Age::Old } else { Age::Now },
        traced: chosen.clone().next().is_some(),
    };
    strip.easel.order(Lane::Worn, order);
    let painter = ui.painter().with_clip_rect(row.rect);
    if let Some(shown) = strip.easel.shown(Lane::Worn) {
        let placed = Placed::about(shown, row.rect.center(), piece.per_mm);
        placed.draw(&painter);
        lit::lit_ui(ui, row, &placed, chosen, theme);
    }
    if row.is_old {
        marks::old_mark(ui, row, strip.desk.solver.solved().is_busy(), theme);
    }
    let words = Role::Note.text(
        ui,
        "The rested cord, bent as it is worn; that its strands slip a little in the bend \
         is left out. Drag to turn it, click a float to choose its strand",
    );
    response.on_hover_text_at_pointer(words);
}

/// Drags, clicks and keys on the piece.
fn touch(ui: &Ui, piece: &Piece, seen: &View, strip: &mut Strip<'_>) -> Response {
    let response = ui.interact(piece.row.rect, spot(), Sense::click_and_drag());
    let shape = match strip.view.worn.shape {
        Shape::Loop => "loop",
        Shape::Straight | Shape::Necklace => "necklace",
    };
    let units = strip.desk.units();
    let long = Length::from_mm(piece.size.length_mm).shown(units);
    let name = format!("the cord as a {shape}, {long} along its middle");
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &name));
    let radians = if response.dragged() {
        f64::from(response.drag_delta().y / 24.0)
    } else {
        0.0
    };
    hand::turn(strip.view, radians + hand::keyed_turn(ui, &response));
    if response.clicked()
        && let Some(at) = response.interact_pointer_pos()
    {
        hand::choose_in(ui, &piece.row, seen, at, strip);
    }
    response.on_hover_cursor(CursorIcon::Grab)
}

/// The tape under the cloth, with the scale at its end.
fn tape_ui(ui: &Ui, rect: Rect, cloth: &Cloth, units: UnitSystem, theme: &Theme) {
    let Some(piece) = &cloth.piece else {
        ui.painter().rect_filled(rect, 0.0, theme.tape);
        return;
    };
    let end = 130.0;
    let zero = rect.left() + super::MARGIN;
    tape::draw(ui.painter(), rect, (zero, piece.per_mm), units, end, theme);
    let words = scale::words(piece.times, cloth.is_measured);
    let at = pos2(rect.right() - end + 12.0, rect.center().y);
    let (font, ink) = (Role::Note.font(), theme.ink2);
    ui.painter()
        .text(at, egui::Align2::LEFT_CENTER, words, font, ink);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_is_read_in_the_makers_unit_and_kept_within_what_can_be_worn() {
        let (mm, inch) = (UnitSystem::Millimetres, UnitSystem::Inches);
        assert_eq!(read("58", mm, INNER), Ok(58.0));
        assert_eq!(read("18", inch, LENGTH), Ok(457.2));
        let fault = read("4 m", mm, LENGTH).expect_err("nobody wears that");
        assert!(fault.starts_with("150"), "{fault}");
        assert!(read("4o", mm, INNER).is_err());
    }

    #[test]
    fn each_shape_asks_for_its_own_size() {
        let mut worn = Worn {
            shape: Shape::Loop,
            ..Worn::default()
        };
        *worn.asked().1 = (70.0, true);
        assert_eq!(worn.bend(), Bend::Loop { inner_mm: 70.0 });
        worn.shape = Shape::Necklace;
        assert_eq!(worn.asked().1.0, 450.0, "a loop's size is not a necklace's");
    }
}
