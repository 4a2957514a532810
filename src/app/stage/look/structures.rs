//! Structures, picked from pictures of the cords they make.
//!
//! Every picture is a solved cord, in one and the same strand for all of them,
//! painted in the colours of the design. Until one is solved, its cord is drawn
//! in dots.

use std::sync::Arc;

use eframe::egui::{Align, Color32, Layout, Rect, Sense, Ui, pos2, vec2};

use crate::app::command::Command;
use crate::app::controls::{IconButton, Pick, chip, segments};
use crate::app::desk::Desk;
use crate::app::easel::{Age, Easel, Order};
use crate::app::fonts::{Face, Role};
use crate::app::fresh::PLAIN_FIBRE;
use crate::app::icons::Icon;
use crate::app::painting::{Scene, plain};
use crate::app::solver::Solved;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::cord::{Cord, Hand};
use crate::document::{Design, Edit};
use crate::drawing::{Thread, View};
use crate::material::on_shelf;
use crate::structure::{MoveList, Shape, Structure, shelf};

use super::LookView;

/// Size of a sample picture at its least, points.
const PICTURE: (f32, f32) = (200.0, 40.0);

/// Which structures are listed, and in which hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Filter {
    /// This many strands; none is any.
    strands: Option<usize>,
    /// This shape; none is any.
    shape: Option<Shape>,
    /// As written or mirrored.
    hand: Written,
}

/// A list as it is written, or its mirror image.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Written {
    #[default]
    Plain,
    Mirrored,
}

impl Filter {
    /// Lists what has as many strands as a design, if the shelf has any.
    pub fn list_like(&mut self, design: &Design) {
        let strands = design.strands.len();
        let has_any = shelf().iter().any(|s| s.strands() == strands);
        *self = Self {
            strands: has_any.then_some(strands),
            ..Self::default()
        };
    }

    fn shows(&self, structure: &Structure) -> bool {
        self.strands.is_none_or(|n| n == structure.strands())
            && self.shape.is_none_or(|shape| shape == structure.shape)
    }

    fn moves(&self, structure: &Structure) -> MoveList {
        match self.hand {
            Written::Plain => structure.moves.clone(),
            Written::Mirrored => structure.moves.mirrored(),
        }
    }

    fn name(&self, structure: &Structure) -> String {
        match self.hand {
            Written::Plain => structure.name.clone(),
            Written::Mirrored => format!("{}, mirrored", structure.name),
        }
    }
}

/// The list with its chips.
pub(super) fn structures_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    Role::Section.label(ui, "Structures");
    chips_ui(ui, &mut view.structures);
    hands_ui(ui, &mut view.structures, wants);
    let filter = view.structures;
    let shown: Vec<&Structure> = shelf().iter().filter(|s| filter.shows(s)).collect();
    let columns = (ui.available_width() / PICTURE.0).floor().max(1.0);
    let gap = ui.spacing().item_spacing.x;
    let width = (ui.available_width() - gap * (columns - 1.0)) / columns;
    for row in shown.chunks(columns as usize) {
        ui.horizontal(|ui| {
            for structure in row {
                card_ui(ui, structure, width, desk, view, easel, wants);
            }
        });
    }
    if shown.is_empty() {
        Role::Note.label(ui, "None of this kind on the shelf");
    }
}

/// Strands and shapes, one of each or any.
fn chips_ui(ui: &mut Ui, filter: &mut Filter) {
    let mut counts: Vec<usize> = shelf().iter().map(Structure::strands).collect();
    counts.dedup();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        for n in counts {
            let on = filter.strands == Some(n);
            if chip(ui, &n.to_string(), on).clicked() {
                filter.strands = (!on).then_some(n);
            }
        }
        Role::Note.label(ui, "strands");
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        for shape in [Shape::Round, Shape::Square, Shape::Flat, Shape::Hollow] {
            let on = filter.shape == Some(shape);
            if chip(ui, shape.word(), on).clicked() {
                filter.shape = (!on).then_some(shape);
            }
        }
    });
}

/// In which hand the list is shown, and the design's own cord in a mirror.
fn hands_ui(ui: &mut Ui, filter: &mut Filter, wants: &mut Vec<Command>) {
    let hands = [
        (Written::Plain, "one hand"),
        (Written::Mirrored, "the other"),
    ];
    ui.horizontal(|ui| {
        segments(ui, "hand", &mut filter.hand, &hands);
        let button = IconButton::new(Icon::Mirror, "Mirror this cord")
            .tip("Mirror this cord: the same moves for the other hand, an S lay becomes a Z lay");
        if ui.add(button).clicked() {
            wants.push(Command::Edit(Edit::Mirror));
        }
    });
}

fn card_ui(
    ui: &mut Ui,
    structure: &Structure,
    width: f32,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let moves = view.structures.moves(structure);
    let name = view.structures.name(structure);
    let is_chosen = desk.moves() == Some(&moves);
    let key = format!("{name} {}", structure.strands());
    let sample = desk.solver.sample(&key);
    let lay = if is_chosen { lay(desk) } else { "" };
    let spoken = spoken(structure, &name, lay, is_chosen);
    let size = vec2(width, PICTURE.1 + 46.0);
    let mut is_seen = false;
    let response = Pick::card(&spoken, is_chosen, size).show(ui, |ui| {
        is_seen = true;
        let (spot, _) = ui.allocate_exact_size(vec2(width - 20.0, PICTURE.1), Sense::hover());
        let ground = ground(ui, is_chosen);
        match sample {
            Some(Some(cord)) => {
                let threads = sample_threads(desk.design, &name, &moves);
                let order = order(ui, cord, threads, spot, ground);
                sample_picture(ui, &key, order, spot, easel);
            }
            Some(None) => slides(ui, spot),
            None => dotted(ui, spot),
        }
        foot_ui(ui, structure, lay, is_chosen);
    });
    if is_seen && sample.is_none() {
        view.samples.push((key, moves.clone()));
    }
    let response = crate::app::controls::tip(response, &structure.remark);
    if response.clicked() && !is_chosen {
        wants.push(Command::Edit(Edit::Moves {
            structure: name,
            moves,
        }));
    }
}

fn spoken(structure: &Structure, name: &str, lay: &str, is_chosen: bool) -> String {
    let lay = if lay.is_empty() {
        String::new()
    } else {
        format!(", {lay}")
    };
    let chosen = if is_chosen { ", chosen" } else { "" };
    format!("{name}{lay}, {} strands{chosen}", structure.strands())
}

/// The lay of the design's own cord once its last, fine solve is done; the
/// samples are too coarse, and of another fibre, to tell.
fn lay(desk: &Desk<'_>) -> &'static str {
    let Solved::Done { cord, last: true } = desk.solver.solved() else {
        return "";
    };
    match cord.figures.hand {
        Hand::S => "S lay",
        Hand::Z => "Z lay",
        Hand::None => "",
    }
}

/// Name, number of strands and lay under the picture.
fn foot_ui(ui: &mut Ui, structure: &Structure, lay: &str, is_chosen: bool) {
    ui.horizontal(|ui| {
        let face = if is_chosen { Face::Bold } else { Face::Medium };
        let end = match lay {
            "" => format!("{}", structure.strands()),
            lay => format!("{}, {lay}", structure.strands()),
        };
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            Role::Note.label(ui, end);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = Role::Note.text(ui, &structure.name).font(face.at(13.0));
                let text = text.color(Theme::of(ui).ink);
                ui.add(eframe::egui::Label::new(text).truncate());
            });
        });
    });
}

/// Paper under the chosen one, the table under the others; linen by night, for
/// dark cords must show.
pub(super) fn ground(ui: &Ui, is_chosen: bool) -> Color32 {
    let theme = Theme::of(ui);
    match (theme.is_night(), is_chosen) {
        (true, _) => theme.linen,
        (false, true) => theme.paper,
        (false, false) => theme.table,
    }
}

pub(super) fn order(
    ui: &Ui,
    cord: &Arc<Cord>,
    threads: Arc<[Thread]>,
    spot: Rect,
    ground: Color32,
) -> Order {
    let pixels = f64::from(ui.ctx().pixels_per_point());
    let size = spot.size() * pixels as f32;
    let thickness = cord
        .figures
        .thickness_on_disc
        .value
        .max(cord.figures.width_rested.value);
    Order {
        cord: Arc::clone(cord),
        threads,
        scene: Scene {
            view: View {
                width: size.x.round() as usize,
                height: size.y.round() as usize,
                pixels_per_mm: 0.7 * f64::from(size.y) / thickness.max(0.1),
                start_mm: 0.0,
                roll: 0.0,
                centre_y: 0.47 * f64::from(size.y),
            },
            ground: plain(&Theme::of(ui), ground),
        },
        age: Age::Now,
        traced: false,
    }
}

pub(super) fn sample_picture(ui: &Ui, key: &str, order: Order, spot: Rect, easel: &mut Easel) {
    match easel.small(key, order) {
        Some(texture) => {
            let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
            ui.painter().image(texture.id(), spot, uv, Color32::WHITE);
        }
        None => dotted(ui, spot),
    }
}

/// The sample's strands: all of one fibre, in the colours the design's strands
/// would have with these moves.
pub(super) fn sample_threads(design: &Design, name: &str, moves: &MoveList) -> Arc<[Thread]> {
    let edit = Edit::Moves {
        structure: name.to_owned(),
        moves: moves.clone(),
    };
    let laid = edit.apply(design).unwrap_or_else(|_| design.clone());
    let Some(fibre) = on_shelf(PLAIN_FIBRE) else {
        return Arc::new([]);
    };
    laid.strands
        .iter()
        .map(|strand| {
            let colour = strand
                .parts
                .first()
                .map_or(fibre.colour, |part| part.colour);
            Thread::single(fibre.appearance, colour)
        })
        .collect()
}

/// A cord that is not solved yet.
pub(super) fn dotted(ui: &Ui, spot: Rect) {
    let body = spot.shrink2(vec2(6.0, 8.0));
    let outline = stitch::rounded_outline(body, body.height() / 2.0);
    let theme = Theme::of(ui);
    ui.painter()
        .extend(stitch::dotted(&outline, 2.0, 7.0, theme.ink3));
}

/// A list that does not hold together.
pub(super) fn slides(ui: &Ui, spot: Rect) {
    let theme = Theme::of(ui);
    Icon::Broken.paint(
        ui.painter(),
        spot.center() - vec2(70.0, 0.0),
        20.0,
        theme.stop,
    );
    ui.painter().text(
        spot.center() - vec2(52.0, 0.0),
        eframe::egui::Align2::LEFT_CENTER,
        "does not lock",
        Role::Note.font(),
        theme.stop,
    );
}
