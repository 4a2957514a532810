//! The next move, read from a metre away.

use eframe::egui::{
    Align, Align2, Color32, FontId, Layout, Painter, Pos2, Rect, Shape, Stroke, Ui, accesskit,
    pos2, vec2,
};

use super::column::Column;
use super::{BraidScene, BraidState, BraidView, disc, far, foot, hints, kept_design, keys};
use crate::app::at_disc::{Doing, Hands, around, lopsided};
use crate::app::command::Command;
use crate::app::controls::{IconButton, link};
use crate::app::fonts::Face;
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;

/// Size of the digits.
const DIGITS: f32 = 148.0;
/// Length of the arrow between them.
const ARROW: f32 = 122.0;
/// Room on either side of it.
const GAP: f32 = 30.0;

/// Draws all of it into `ui`.
pub(super) fn glance_ui(
    ui: &mut Ui,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let mut column = Column::new(ui);
    head_ui(&mut column, scene, state, wants);
    foot::foot_ui(&mut column, scene, state, wants);
    digits_ui(&mut column, scene);
    let theme = column.theme;
    let lead = column.font(Face::Medium, if column.tight { 22.0 } else { 18.5 });
    column.words(&scene.prompt.sentence, lead.clone(), theme.ink);
    column.gap(4.0);
    column.words_if_room(&scene.prompt.then, lead, theme.ink2);
    kept_design::beside_design(&mut column, scene, wants);
    if matches!(scene.place.doing, Doing::Laying(_)) {
        dressing_ui(&mut column, scene);
    } else {
        pause_ui(&mut column, scene);
        hints::hints_ui(&mut column, scene, wants);
    }
    live(&mut column, scene);
}

/// "Next, right hand", and what else can stand here.
fn head_ui(
    column: &mut Column<'_>,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let font = column.font(Face::Italic, if column.tight { 26.0 } else { 24.0 });
    let strip = column.top(1.35 * font.size.max(20.0));
    let tools = strip.with_min_x(strip.right() - 124.0);
    let words = strip.with_max_x(tools.left() - 8.0);
    let ink = column.theme.ink2;
    column.line(words, Align2::LEFT_CENTER, &scene.prompt.head, font, ink);
    column.name(words, &scene.prompt.head);
    let full = state.full;
    column.controls(tools, "tools", |ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            let (icon, name) = if full {
                (Icon::Cross, "Leave the full screen")
            } else {
                (Icon::Up, "Fill the screen")
            };
            if ui
                .add(IconButton::new(icon, name).tip(&format!("{name}  F11")))
                .clicked()
            {
                keys::fill(ui, state, !full);
            }
            if ui.add(IconButton::new(Icon::Dots, "How I work")).clicked() {
                state.show(BraidView::Settings);
            }
            let list = IconButton::new(Icon::Page, "Cords under way")
                .tip("Put it down, its place is kept: to the cords under way");
            if ui.add(list).clicked() {
                wants.push(Command::AtDisc(Hands::PutDown));
            }
        });
    });
    column.gap(if column.tight { 0.0 } else { 2.0 });
}

/// "1 → 15", as large as the column bears.
fn digits_ui(column: &mut Column<'_>, scene: BraidScene<'_>) {
    let prompt = scene.prompt;
    if prompt.from.is_empty() {
        return;
    }
    let theme = column.theme;
    let laid_out = |column: &Column<'_>, words: &str, size: f32| {
        let font = Face::Figures.at(size);
        let painter = column.ui.painter();
        painter.layout_no_wrap(words.to_owned(), font, theme.ink)
    };
    let wanted = column.size(DIGITS);
    // All of the line shrinks together where the places have long names.
    let (arrow, gap) = (ARROW / DIGITS, GAP / DIGITS);
    let wide = |size: f32| {
        let words = [&prompt.from, &prompt.to].map(|it| laid_out(column, it, size).size().x);
        words[0] + words[1] + (arrow + 2.0 * gap) * size
    };
    let size = wanted * ((column.left.width() - 8.0) / wide(wanted)).min(1.0);
    let (arrow, gap) = (arrow * size, gap * size);
    let strip = column.top(1.02 * wanted);
    let painter = column.ui.painter();
    let middle = strip.center().y;
    let mut x = strip.left() + 4.0;
    for (nth, words) in [&prompt.from, &prompt.to].into_iter().enumerate() {
        let galley = laid_out(column, words, size);
        let (width, tall) = (galley.size().x, galley.size().y);
        // The digits stand high in their line.
        painter.galley(pos2(x, middle - 0.36 * tall), galley, theme.ink);
        x += width + gap;
        if nth == 0 {
            let ends = [pos2(x, middle), pos2(x + arrow, middle)];
            arrow_between(painter, ends, 0.088 * size, prompt.both_ways, &theme);
            x += arrow + gap;
        }
    }
    let to = if prompt.both_ways { "and" } else { "to" };
    let spoken = format!("{} {to} {}", prompt.from, prompt.to);
    column.name(strip, &spoken);
}

/// A thick arrow, with a head at either end for two that change places.
fn arrow_between(painter: &Painter, [from, to]: [Pos2; 2], wide: f32, both: bool, theme: &Theme) {
    let head = 3.6 * wide;
    let start = if both {
        from.x + 0.7 * head
    } else {
        from.x + 0.5 * wide
    };
    let shaft = vec![pos2(start, from.y), pos2(to.x - 0.7 * head, to.y)];
    painter.extend(stitch::thread(shaft, wide, theme.thread));
    barb(painter, to, head, theme.thread);
    if both {
        barb(painter, from, -head, theme.thread);
    }
}

/// A barbed head with its tip there, pointing right, or left for a negative length.
fn barb(painter: &Painter, tip: Pos2, head: f32, colour: Color32) {
    let half = 0.52 * head.abs();
    let notch = tip - vec2(0.76 * head, 0.0);
    for side in [-half, half] {
        let corner = tip + vec2(-head, side);
        let seam = Stroke::new(0.8, colour);
        painter.add(Shape::convex_polygon(
            vec![tip, corner, notch],
            colour,
            seam,
        ));
    }
}

/// How a half-done pair can be told from the disc alone.
fn pause_ui(column: &mut Column<'_>, scene: BraidScene<'_>) {
    let sides = lopsided(scene.work, scene.place);
    // Gap, hairline, and clear of the count below.
    let free = column.left.height() - 22.0 * column.scale - column.size(18.0).min(26.0);
    let tall = free.min(76.0 * column.scale);
    let room = tall >= 46.0 * column.scale;
    if !scene.place.half_done || sides.is_empty() || column.tight || !room {
        return;
    }
    column.gap(6.0);
    column.hairline();
    let strip = column.top(tall);
    let disc = Rect::from_min_size(strip.min, vec2(tall, tall));
    small_disc(column, disc, scene);
    let words = strip.with_min_x(disc.right() + 20.0 * column.scale);
    let [upper, lower] = [
        words.with_max_y(words.center().y),
        words.with_min_y(words.center().y + 4.0),
    ];
    let (bold, note) = (
        column.font(Face::Bold, 15.0),
        column.font(Face::Regular, 14.0),
    );
    let happened = format!("{sides}: the first of the pair is done.");
    let advice = "Put it down like this and it will tell you where you were.";
    let theme = column.theme;
    column.line(upper, Align2::LEFT_BOTTOM, &happened, bold, theme.ink);
    column.line(lower, Align2::LEFT_TOP, advice, note, theme.ink2);
    column.name(strip, &format!("{happened} {advice}"));
}

/// The disc as it lies, small: only how many lie where.
fn small_disc(column: &Column<'_>, rect: Rect, scene: BraidScene<'_>) {
    let theme = column.theme;
    let painter = column.ui.painter();
    let (centre, radius) = (rect.center(), 0.5 * rect.width() - 1.0);
    painter.circle(centre, radius, theme.foam, Stroke::new(1.2, theme.foamline));
    let counts = around(
        scene.work.braid(),
        scene.work.lying().places(),
        scene.place.quarters,
    );
    let quarter = std::f32::consts::FRAC_PI_2;
    for (side, count) in counts.into_iter().enumerate() {
        for nth in 0..count {
            let apart = (0.26_f32).min(1.3 / count as f32);
            let aside = (nth as f32 - 0.5 * (count as f32 - 1.0)) * apart;
            let angle = side as f32 * quarter + aside;
            let out = vec2(angle.sin(), -angle.cos());
            let ends = [centre + 0.2 * radius * out, centre + 0.97 * radius * out];
            let line = Stroke::new((0.07 * radius).max(2.0), theme.ink);
            painter.line_segment(ends, line);
        }
    }
    painter.circle_filled(centre, 0.2 * radius, theme.hole);
}

/// What was laid so far, and what the strand looks like.
fn dressing_ui(column: &mut Column<'_>, scene: BraidScene<'_>) {
    let Doing::Laying(strands) = &scene.place.doing else {
        return;
    };
    column.gap(10.0);
    let tall = 26.0 * column.scale;
    // Both halves of a folded length are alike.
    let shown = if column.tight {
        &[]
    } else {
        &strands[..strands.len().min(1)]
    };
    for &strand in shown {
        let strip = column.top(tall + 4.0);
        disc::swatch_ui(column, strip, scene, strand);
    }
    let (laid, all) = (scene.work.course().laid, scene.work.course().strands());
    let mut words = format!("{laid} of {all} strands lie on the disc.");
    if laid == 0 && !scene.work.design().cores().is_empty() {
        words = "First let the core down through the hole, then lay the strands round it.".into();
    }
    column.gap(4.0);
    let font: FontId = column.font(Face::Medium, 15.0);
    let ink = column.theme.ink2;
    column.words(&words, font, ink);
}

/// Says the next move to a reader when it comes.
fn live(column: &mut Column<'_>, scene: BraidScene<'_>) {
    let words = far::spoken(scene);
    let corner = Rect::from_min_size(column.ui.max_rect().min, vec2(1.0, 1.0));
    let id = column.ui.scope_id().with("live");
    let response = column.ui.interact(corner, id, eframe::egui::Sense::empty());
    let role = eframe::egui::Role::Label;
    response.widget_info(|| eframe::egui::WidgetInfo::labeled(role, true, &words));
    column.ui.ctx().accesskit_node_builder(id, |node| {
        node.set_live(accesskit::Live::Polite);
    });
}

/// A head alone.
pub(super) fn plain_head(column: &mut Column<'_>, words: &str) -> Rect {
    let font = column.font(Face::Italic, 24.0);
    let strip = column.top(1.35 * font.size.max(20.0));
    let ink = column.theme.ink;
    column.line(strip, Align2::LEFT_CENTER, words, font, ink);
    column.name(strip, words);
    column.gap(8.0);
    strip
}

/// A head with a way back to the next move, for what stands in its place.
pub(super) fn head_of(column: &mut Column<'_>, words: &str, state: &mut BraidState) {
    let strip = plain_head(column, words);
    let spot = strip.with_min_x(strip.right() - 130.0);
    let back = column.controls(spot, "back", |ui| {
        let right = Layout::right_to_left(Align::Center);
        ui.with_layout(right, |ui| link(ui, "to the next move").clicked())
            .inner
    });
    if back {
        state.show(BraidView::Next);
    }
}
