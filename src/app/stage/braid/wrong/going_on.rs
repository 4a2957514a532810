//! What the cord becomes if the maker just goes on: the same cord, its colours placed
//! otherwise.

use std::sync::Arc;

use eframe::egui::{Color32, Rect, Sense, Ui, WidgetInfo, pos2, vec2};

use super::super::work::{Ask, Work};
use crate::app::controls::Button;
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::{Face, Role};
use crate::app::painting::threads;
use crate::app::stage::look::{sample_dots, sample_ground, sample_order};
use crate::bench::Entry;
use crate::bench::lost::GoingOn;
use crate::cord::Cord;
use crate::drawing::Thread;

/// Height of a cord's picture.
const PICTURE: f32 = 40.0;

/// Shows both cords, and the button that goes on.
pub(super) fn going_on_ui(
    ui: &mut Ui,
    work: &Work<'_>,
    going_on: &GoingOn,
    desk: &Desk<'_>,
    easel: &mut Easel,
    asks: &mut Vec<Ask>,
) {
    ui.add_space(10.0);
    let words = if looks_alike(work, &going_on.roles) {
        "Or just go on: the cord stays regular and looks the same."
    } else {
        "Or just go on: the cord stays regular and looks another way from here."
    };
    let text = Role::Text.text(ui, words);
    ui.label(text.font(Face::Semibold.at(14.0)));
    ui.add_space(2.0);
    let now = ("so far", &work.course.roles);
    for (words, roles) in [now, ("from here on", &going_on.roles)] {
        picture_ui(ui, work, (words, roles), desk, easel);
    }
    ui.add_space(4.0);
    if ui.add(Button::plain("Go on like this")).clicked() {
        asks.push(Ask::Tell(Entry::Taken {
            done: going_on.done,
            roles: going_on.roles.clone(),
        }));
    }
}

/// Whether strands that change their roles look the same.
fn looks_alike(work: &Work<'_>, roles: &[usize]) -> bool {
    let look_of_role = |roles: &[usize], role: usize| {
        let strand = roles.iter().position(|&it| it == role);
        strand.and_then(|strand| work.looks.of.get(strand))
    };
    (0..roles.len()).all(|role| look_of_role(roles, role) == look_of_role(&work.course.roles, role))
}

/// A cord as its strands make it in these roles.
fn picture_ui(
    ui: &mut Ui,
    work: &Work<'_>,
    (words, roles): (&str, &[usize]),
    desk: &Desk<'_>,
    easel: &mut Easel,
) {
    ui.horizontal(|ui| {
        let (label, _) = ui.allocate_exact_size(vec2(84.0, PICTURE), Sense::hover());
        let note = Role::Note.font();
        let ink = crate::app::theme::Theme::of(ui).ink2;
        let at = label.left_center();
        ui.painter()
            .text(at, eframe::egui::Align2::LEFT_CENTER, words, note, ink);
        let size = vec2(ui.available_width().min(420.0), PICTURE);
        let (spot, response) = ui.allocate_exact_size(size, Sense::hover());
        let role = eframe::egui::Role::Image;
        response.widget_info(|| WidgetInfo::labeled(role, true, format!("the cord {words}")));
        let cord = cord_of(work, desk);
        let threads = in_roles(&threads(work.design), roles);
        let fits = |cord: &&Arc<Cord>| cord.form.strands == threads.len();
        let order = cord.filter(fits).map(|cord| {
            sample_order(
                ui,
                cord,
                threads.clone().into(),
                spot,
                sample_ground(ui, true),
            )
        });
        let key = format!("going on {words}");
        match order.and_then(|order| easel.small(&key, order)) {
            Some(texture) => {
                let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
                ui.painter().image(texture.id(), spot, uv, Color32::WHITE);
            }
            None => sample_dots(ui, spot),
        }
    });
}

/// The cord of the work, if the one on the table has its moves.
fn cord_of<'a>(work: &Work<'_>, desk: &Desk<'a>) -> Option<&'a Arc<Cord>> {
    let same = desk
        .moves()
        .is_some_and(|moves| moves == work.braid.moves());
    desk.solver.solved().cord().filter(|_| same)
}

/// The strands in the order of the roles they have; a core stays where it is.
fn in_roles(threads: &[Thread], roles: &[usize]) -> Vec<Thread> {
    let mut placed = threads.to_vec();
    for (strand, &role) in roles.iter().enumerate() {
        if let (Some(thread), Some(spot)) = (threads.get(strand), placed.get_mut(role)) {
            spot.clone_from(thread);
        }
    }
    placed
}
