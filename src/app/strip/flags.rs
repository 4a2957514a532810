//! Marked strands on the cord: their floats in the line of their flag, and each
//! strand's letter once, in the shape of its flag.
//!
//! The same strands as on the disc, always: one that never comes to the top has
//! its letter at the strip's end, with a word.

use eframe::egui::{Painter, Pos2, Rect, Sense, Ui, WidgetInfo, pos2, vec2};

use super::row::{Placed, Row};
use crate::app::flags::{Flag, Flags};
use crate::app::theme::Theme;
use crate::cord::strand_name;

/// Radius of a letter's tag.
const TAG: f32 = 9.0;
/// Distance that tags keep from each other.
const APART: f32 = 25.0;
/// Room left for what else stands at the strip's left end.
const LEFT: f32 = 150.0;

/// Draws the marks of a cord of so many strands over the picture that hangs
/// there, clear of the letters in `tags`.
pub(super) fn flags_ui(
    ui: &Ui,
    row: &Row,
    placed: Option<&Placed<'_>>,
    (flags, strands): (&Flags, usize),
    mut tags: Vec<Pos2>,
    theme: &Theme,
) {
    let painter = ui.painter().with_clip_rect(row.rect);
    let mut hidden = 0;
    let is_whole = flags.strands.len() == strands;
    for &(strand, flag) in &flags.strands {
        let floats = placed.map_or(Vec::new(), |it| it.floats_of(strand));
        // Lines on every strand would hide the cord: then only the other part has
        // them, and letters say the rest.
        if !is_whole || flag == Flag::Other {
            floats
                .iter()
                .for_each(|path| flag.line(&painter, path, theme));
        }
        let spot = free_spot(&floats, &tags, row.rect);
        tags.extend(spot);
        let at = spot.unwrap_or_else(|| {
            hidden += 1;
            let along = row.rect.right() - 16.0 - 24.0 * (hidden - 1) as f32;
            pos2(along, row.rect.bottom() - 14.0)
        });
        tag(ui, &painter, at, (strand, flag), spot.is_some(), theme);
    }
}

/// The middle of the first float that is clear of other tags; of any float in
/// sight if none is.
pub(super) fn free_spot(floats: &[Vec<Pos2>], taken: &[Pos2], linen: Rect) -> Option<Pos2> {
    let inside = linen.shrink(TAG + 2.0).with_min_x(linen.left() + LEFT);
    let mut middles: Vec<Pos2> = floats
        .iter()
        .map(|path| path[path.len() / 2])
        .filter(|at| inside.contains(*at))
        .collect();
    middles.sort_by(|a, b| a.x.total_cmp(&b.x));
    let is_clear = |at: &&Pos2| taken.iter().all(|other| other.distance(**at) > APART);
    middles.iter().find(is_clear).or(middles.first()).copied()
}

fn tag(
    ui: &Ui,
    painter: &Painter,
    at: Pos2,
    (strand, flag): (usize, Flag),
    is_on_top: bool,
    theme: &Theme,
) {
    let letter = strand_name(strand);
    flag.tag(painter, at, TAG, &letter, theme);
    let place = if is_on_top {
        "on the cord"
    } else {
        "inside the cord"
    };
    let words = format!("{place}: strand {letter}, marked {}", flag.words());
    let id = ui.scope_id().with(("flag", strand));
    let rect = Rect::from_center_size(at, vec2(2.0, 2.0) * TAG);
    let response = ui.interact(rect, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Label, true, &words));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_keep_clear_of_each_other_as_long_as_there_is_room() {
        let linen = Rect::from_min_max(pos2(0.0, 0.0), pos2(600.0, 100.0));
        let float = |x: f32| vec![pos2(x - 9.0, 50.0), pos2(x, 52.0), pos2(x + 9.0, 50.0)];
        let floats = [float(400.0), float(200.0), float(60.0)];
        let first = free_spot(&floats, &[], linen).expect("room");
        assert_eq!(first, pos2(200.0, 52.0), "right of what stands at the left");
        let second = free_spot(&floats, &[first], linen).expect("room");
        assert_eq!(second, pos2(400.0, 52.0));
        let third = free_spot(&floats, &[first, second], linen);
        assert_eq!(third, Some(first), "no room left, but marked");
        assert_eq!(free_spot(&[], &[], linen), None, "never on top");
    }
}
