//! What the cord looks like just below the hole, as toggles with a small drawing each.

use std::collections::BTreeSet;

use eframe::egui::{
    Align2, Painter, Pos2, Rect, Response, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2,
    vec2,
};

use crate::app::controls::keyboard_leads;
use crate::app::fonts::{Face, Role};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::bench::Sign;

/// A toggle with its words.
const SIZE: eframe::egui::Vec2 = vec2(112.0, 78.0);

/// Every sign with its words.
const SIGNS: [(Sign, &str); 4] = [
    (Sign::Fat, "too fat"),
    (Sign::Knee, "a knee"),
    (Sign::Cross, "an X in the middle"),
    (Sign::LongFloat, "a float too long"),
];

/// The toggles; those that are on are in `signs`.
pub(super) fn signs_ui(ui: &mut Ui, signs: &mut BTreeSet<Sign>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(8.0, 8.0);
        for (sign, words) in SIGNS {
            let on = signs.contains(&sign);
            if toggle_ui(ui, sign, words, on).clicked() && !signs.remove(&sign) {
                signs.insert(sign);
            }
        }
    });
}

fn toggle_ui(ui: &mut Ui, sign: Sign, words: &str, on: bool) -> Response {
    let (rect, response) = ui.allocate_exact_size(SIZE, Sense::click());
    let role = eframe::egui::Role::CheckBox;
    response.widget_info(|| WidgetInfo::selected(role, true, on, format!("the cord has: {words}")));
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let (fill, line) = match (on, response.hovered()) {
        (true, _) => (theme.soft, theme.thread),
        (false, true) => (theme.well, theme.ink),
        (false, false) => (theme.paper, theme.line2),
    };
    let edge = Stroke::new(1.0, line);
    painter.rect(rect, 8.0, fill, edge, StrokeKind::Inside);
    if on {
        stitch::choose(painter, rect, 8.0, &theme);
    }
    let drawing = Rect::from_center_size(rect.center_top() + vec2(0.0, 31.0), vec2(64.0, 46.0));
    draw(painter, drawing, sign, &theme);
    let face = if on { Face::Bold } else { Face::Medium };
    let at = pos2(rect.center().x, rect.bottom() - 14.0);
    let size = Role::Smallest.font().size;
    painter.text(at, Align2::CENTER_CENTER, words, face.at(size), theme.ink);
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, rect, 8.0, &theme);
    }
    response
}

fn draw(painter: &Painter, rect: Rect, sign: Sign, theme: &Theme) {
    match sign {
        Sign::Fat => cord(painter, rect, theme, |t| {
            (0.0, if t < 0.45 { 9.0 } else { 5.0 })
        }),
        Sign::Knee => cord(painter, rect, theme, |t| {
            let bent = (1.0 - ((t - 0.42) / 0.30).abs()).max(0.0);
            (11.0 * bent, 5.5)
        }),
        Sign::Cross => cross(painter, rect, theme),
        Sign::LongFloat => {
            cord(painter, rect, theme, |_| (0.0, 7.0));
            let from = pos2(rect.center().x - 4.0, rect.top() + 14.0);
            let to = pos2(rect.center().x + 4.0, rect.bottom() - 6.0);
            painter.extend(stitch::thread(vec![from, to], 6.5, theme.paper));
            painter.extend(stitch::thread(vec![from, to], 4.5, theme.thread));
        }
    }
}

/// A cord hanging from the edge of the hole; `shape` says how far aside and how wide it is
/// a share of the way down.
fn cord(painter: &Painter, rect: Rect, theme: &Theme, shape: impl Fn(f32) -> (f32, f32)) {
    let edge = Stroke::new(2.0, theme.foamline);
    painter.line_segment([rect.left_top(), rect.right_top()], edge);
    let middle = rect.center().x;
    let side = |sign: f32| {
        (0..=24)
            .map(move |k| (sign, k as f32 / 24.0))
            .collect::<Vec<_>>()
    };
    let at = |&(sign, t): &(f32, f32)| {
        let (aside, half) = shape(t);
        pos2(middle + aside + sign * half, rect.top() + t * rect.height())
    };
    let line = Stroke::new(1.4, theme.ink);
    for sign in [-1.0, 1.0] {
        painter.add(Shape::line(side(sign).iter().map(at).collect(), line));
    }
    // Strands wind round it.
    let thin = Stroke::new(1.1, theme.ink2);
    for k in 1..8 {
        let t = k as f32 / 8.0;
        let ends: [Pos2; 2] = [at(&(-1.0, t + 0.05)), at(&(1.0, t - 0.05))];
        painter.line_segment(ends, thin);
    }
}

/// Two strands over the hole, one over the other.
fn cross(painter: &Painter, rect: Rect, theme: &Theme) {
    let centre = rect.center();
    painter.circle(centre, 23.0, theme.foam, Stroke::new(1.4, theme.foamline));
    painter.circle_filled(centre, 9.0, theme.hole);
    let reach = 17.0;
    let strands = [
        (vec2(-reach, -reach), theme.ink2),
        (vec2(reach, -reach), theme.thread),
    ];
    for (out, ink) in strands {
        let line = vec![centre + out, centre - out];
        painter.extend(stitch::thread(line.clone(), 6.5, theme.paper));
        painter.extend(stitch::thread(line, 4.5, ink));
    }
}
