//! How many pieces: from one cord, cords, further sizes.

use eframe::egui::Ui;

use super::FitView;
use crate::app::controls::{Button, IconButton, stepper};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::stage::entry::{self, Grain, LengthEntry, row};
use crate::app::words::count;
use crate::document::{Edit, PieceEdit};
use crate::plan::Size;

/// Most of anything by steps; more is typed nowhere.
const MOST: u16 = 1000;
/// How much longer the next size is, mm. Common practice: necklaces go by 5 cm.
const STEP_MM: f64 = 50.0;

/// How many in a few words.
pub(super) fn words(view: &FitView<'_>) -> String {
    let piece = view.piece;
    let mut said = match (piece.cords, piece.from_one_cord) {
        (1, 1) => "one".to_owned(),
        (1, n) => format!("{} from one cord", count(n.into())),
        (cords, 1) => format!("{} cords", count(cords.into())),
        (cords, n) => format!(
            "{} cords, {} from each",
            count(cords.into()),
            count(n.into())
        ),
    };
    match piece.sizes.len() {
        0 => {}
        1 => said.push_str(", one more size"),
        n => said = format!("{said}, {} more sizes", count(n)),
    }
    said
}

/// The counts and the sizes.
pub(super) fn many_ui(ui: &mut Ui, view: &FitView<'_>, asks: &mut Vec<Edit>) {
    let piece = view.piece;
    row(ui, "From one cord", "pieces cut from it", |ui| {
        let mut n = piece.from_one_cord;
        if stepper(ui, "pieces from one cord", &mut n, 1..=MOST) {
            asks.push(Edit::Piece(PieceEdit::FromOneCord(n)));
        }
    });
    row(ui, "Such cords", "", |ui| {
        let mut n = piece.cords;
        if stepper(ui, "cords", &mut n, 1..=MOST) {
            asks.push(Edit::Piece(PieceEdit::Cords(n)));
        }
    });
    if !piece.sizes.is_empty() {
        Role::Label.label(ui, "Further sizes, one cord each");
    }
    for at in 0..piece.sizes.len() {
        ui.push_id(at, |ui| size_ui(ui, view, at, asks));
    }
    if ui
        .add(Button::plain("One more size").icon(Icon::Plus))
        .clicked()
    {
        let mut sizes = piece.sizes.clone();
        let step = if view.is_inches() { 50.8 } else { STEP_MM };
        let longer = sizes.last().map_or(0.0, |size| size.longer) + step;
        let name = format!("{} longer", view.long(longer));
        sizes.push(Size { name, longer });
        asks.push(Edit::Piece(PieceEdit::Sizes(sizes)));
    }
}

fn size_ui(ui: &mut Ui, view: &FitView<'_>, at: usize, asks: &mut Vec<Edit>) {
    let size = &view.piece.sizes[at];
    let mut ask = |change: &dyn Fn(&mut Vec<Size>)| {
        let mut sizes = view.piece.sizes.clone();
        change(&mut sizes);
        asks.push(Edit::Piece(PieceEdit::Sizes(sizes)));
    };
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let name = format!("name of size {}", at + 1);
        let wide = (ui.available_width() - 130.0).max(80.0);
        if let Some(to) = entry::name(ui, &name, &size.name, "name", wide) {
            ask(&|sizes| sizes[at].name.clone_from(&to));
        }
        let name = format!("size {}: longer by", at + 1);
        let entry = LengthEntry {
            name: &name,
            grain: Grain::Long,
            mm: size.longer,
            range: (-10_000.0, 10_000.0),
            units: view.units,
            width: 92.0,
        };
        if let Some(longer) = entry.show(ui) {
            ask(&|sizes| sizes[at].longer = longer);
        }
        let away = format!("take size {} away", at + 1);
        let cross = ui.vertical(|ui| {
            ui.add_space(4.0);
            ui.add(IconButton::new(Icon::Cross, &away).small())
        });
        if cross.inner.clicked() {
            ask(&|sizes| drop(sizes.remove(at)));
        }
    });
}
