//! What happened, what was kept, what to do: three lines where they belong.

use eframe::egui::{
    self, Color32, Galley, Painter, Pos2, Rect, Response, Sense, Shape, Ui, WidgetInfo, pos2, vec2,
};
use std::sync::Arc;

use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;

/// How grave a notice is. Each has its own icon and side bar, so that grey
/// print keeps them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// Something was done, or is good to know.
    Info,
    /// At the edge, take care.
    Caution,
    /// Something failed.
    Stop,
}

impl Tone {
    fn icon(self) -> Icon {
        match self {
            Self::Info => Icon::Check,
            Self::Caution => Icon::Warn,
            Self::Stop => Icon::Broken,
        }
    }

    fn colour(self, theme: &Theme) -> Color32 {
        match self {
            Self::Info => theme.ok,
            Self::Caution => theme.caution,
            Self::Stop => theme.stop,
        }
    }
}

/// A notice in the sheet it concerns.
#[derive(Debug, Clone, Copy)]
#[must_use = "a notice has to be shown"]
pub struct Notice<'a> {
    /// How grave it is.
    pub tone: Tone,
    /// What happened, one sentence.
    pub happened: &'a str,
    /// What was kept; may be empty.
    pub kept: &'a str,
    /// What to do; may be empty.
    pub advice: &'a str,
}

const BAR: f32 = 4.0;
const TEXT_LEFT: f32 = 46.0;

impl Notice<'_> {
    /// Draws it across the room there is.
    pub fn show(self, ui: &mut Ui) -> Response {
        let theme = Theme::of(ui);
        let width = ui.available_width();
        let lines = self.lines(ui, &theme, width - TEXT_LEFT - 12.0);
        let tall: f32 = lines.iter().map(|line| line.size().y + 2.0).sum();
        let (rect, response) = ui.allocate_exact_size(vec2(width, tall + 20.0), Sense::hover());
        response.widget_info(|| {
            let words = [self.happened, self.kept, self.advice].join(" ");
            WidgetInfo::labeled(egui::Role::Label, true, words.trim())
        });
        let painter = ui.painter();
        painter.rect_filled(rect, 6.0, theme.well);
        let colour = self.tone.colour(&theme);
        side_bar(painter, rect, self.tone, colour);
        let icon = pos2(rect.left() + 26.0, rect.top() + 20.0);
        self.tone.icon().paint(painter, icon, 20.0, colour);
        let mut at = pos2(rect.left() + TEXT_LEFT, rect.top() + 10.0);
        for line in lines {
            let height = line.size().y;
            painter.galley(at, line, theme.ink);
            at.y += height + 2.0;
        }
        response
    }

    fn lines(&self, ui: &Ui, theme: &Theme, width: f32) -> Vec<Arc<Galley>> {
        let painter = ui.painter();
        let head = (self.happened, Face::Bold.at(14.0), self.tone.colour(theme));
        let rest = [self.kept, self.advice].map(|words| (words, Role::Note.font(), theme.ink));
        std::iter::once(head)
            .chain(rest)
            .filter(|(words, ..)| !words.is_empty())
            .map(|(words, font, colour)| painter.layout(words.to_owned(), font, colour, width))
            .collect()
    }
}

/// Solid for good news, dotted for care, broken in the middle for a failure.
fn side_bar(painter: &Painter, rect: Rect, tone: Tone, colour: Color32) {
    let x = rect.left() + BAR / 2.0;
    let (top, bottom) = (rect.top() + 4.0, rect.bottom() - 4.0);
    let path = [pos2(x, top), pos2(x, bottom)];
    match tone {
        Tone::Info => {
            painter.extend(stitch::thread(path.to_vec(), BAR, colour));
        }
        Tone::Caution => {
            painter.extend(stitch::dotted(&path, BAR, 9.0, colour));
        }
        Tone::Stop => {
            painter.extend(parted(
                rect.left_center() + vec2(BAR / 2.0, 0.0),
                [top, bottom],
                colour,
            ));
        }
    }
}

fn parted(middle: Pos2, ends: [f32; 2], colour: Color32) -> Vec<Shape> {
    let upper = vec![
        pos2(middle.x, ends[0]),
        middle - vec2(0.0, 5.0),
        middle + vec2(4.0, -1.0),
    ];
    let lower = vec![
        pos2(middle.x, ends[1]),
        middle + vec2(0.0, 5.0),
        middle + vec2(-4.0, 1.0),
    ];
    let mut shapes = stitch::thread(upper, BAR * 0.8, colour);
    shapes.extend(stitch::thread(lower, BAR * 0.8, colour));
    shapes
}

#[cfg(test)]
mod tests {
    use egui_kittest::kittest::Queryable;

    use super::*;
    use crate::app::controls::bench::window;

    #[test]
    fn a_notice_is_read_out_as_one() {
        let harness = window([400.0, 200.0], |ui| {
            Notice {
                tone: Tone::Stop,
                happened: "The file could not be read past line 41.",
                kept: "Your last good version is open and unharmed.",
                advice: "Open the copy beside it, or mend line 41.",
            }
            .show(ui);
        });
        harness.get_by_label(
            "The file could not be read past line 41. Your last good version is \
             open and unharmed. Open the copy beside it, or mend line 41.",
        );
    }
}
