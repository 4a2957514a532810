//! The two faces and the roles they play.
//!
//! Lato is everything that is read or pressed; Old Standard, the face of old
//! pattern books, is names, section heads and figures, never under 15 points.
//! Both have figures of one width by default, which matters since egui applies
//! no OpenType features. Both are under the SIL Open Font Licence; the files
//! are unchanged, their licences lie beside them.

use std::sync::Arc;

use eframe::egui::{
    Color32, Context, FontData, FontDefinitions, FontFamily, FontId, FontTweak, RichText, Ui,
    WidgetText,
};

use super::theme::Theme;

/// A face with its weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// Lato Regular: notes.
    Regular,
    /// Lato Medium: running text.
    Medium,
    /// Lato Semibold: names, labels, buttons.
    Semibold,
    /// Lato Bold: numbers in use, what is chosen.
    Bold,
    /// Old Standard: figures and titles.
    Figures,
    /// Old Standard Italic: section heads and units.
    Italic,
}

impl Face {
    /// Every face.
    pub const ALL: [Self; 6] = [
        Self::Regular,
        Self::Medium,
        Self::Semibold,
        Self::Bold,
        Self::Figures,
        Self::Italic,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Regular => "lato regular",
            Self::Medium => "lato medium",
            Self::Semibold => "lato semibold",
            Self::Bold => "lato bold",
            Self::Figures => "old standard",
            Self::Italic => "old standard italic",
        }
    }

    fn file(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../resources/fonts/Lato-Regular.ttf"),
            Self::Medium => include_bytes!("../../resources/fonts/Lato-Medium.ttf"),
            Self::Semibold => include_bytes!("../../resources/fonts/Lato-Semibold.ttf"),
            Self::Bold => include_bytes!("../../resources/fonts/Lato-Bold.ttf"),
            Self::Figures => include_bytes!("../../resources/fonts/OldStandard-Regular.ttf"),
            Self::Italic => include_bytes!("../../resources/fonts/OldStandard-Italic.ttf"),
        }
    }

    /// Lato stands a little high in its line; moved down so that capitals and
    /// figures sit in the middle of buttons and rings (tried).
    fn tweak(self) -> FontTweak {
        let down = match self {
            Self::Figures | Self::Italic => 0.0,
            _ => 0.05,
        };
        FontTweak {
            y_offset_factor: down,
            ..FontTweak::default()
        }
    }

    /// The family under which egui knows this face.
    pub fn family(self) -> FontFamily {
        FontFamily::Name(self.name().into())
    }

    /// This face at a size in points.
    pub fn at(self, size: f32) -> FontId {
        FontId::new(size, self.family())
    }
}

/// Hands the faces to egui; they are there from the next frame on.
pub fn load(ctx: &Context) {
    ctx.set_fonts(definitions());
}

/// The toolkit's own faces stay behind ours, for scripts that ours lack.
fn definitions() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let behind = fonts
        .families
        .get(&FontFamily::Proportional)
        .cloned()
        .unwrap_or_default();
    for face in Face::ALL {
        let name = face.name().to_owned();
        let data = FontData::from_static(face.file()).tweak(face.tweak());
        fonts.font_data.insert(name.clone(), Arc::new(data));
        let mut chain = vec![name];
        chain.extend(behind.iter().cloned());
        fonts.families.insert(face.family(), chain);
    }
    let text = fonts.families[&Face::Medium.family()].clone();
    fonts.families.insert(FontFamily::Proportional, text);
    fonts
}

/// What a piece of text is for; decides face, size and colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The next move, read from a metre away.
    Glance,
    /// One of the four figures.
    Figure,
    /// Unit beside a figure.
    Unit,
    /// A figure where room is short.
    FigureCompact,
    /// Name of the piece.
    Title,
    /// Head of a sheet.
    Section,
    /// A value in a row.
    Value,
    /// Text meant to be read at arm's length.
    Lead,
    /// Name of a thing.
    Name,
    /// Running text.
    Text,
    /// Text on buttons and links.
    Button,
    /// Label of a field or figure.
    Label,
    /// A remark.
    Note,
    /// Axes and captions.
    Smallest,
}

impl Role {
    /// Every role.
    pub const ALL: [Self; 14] = [
        Self::Glance,
        Self::Figure,
        Self::Unit,
        Self::FigureCompact,
        Self::Title,
        Self::Section,
        Self::Value,
        Self::Lead,
        Self::Name,
        Self::Text,
        Self::Button,
        Self::Label,
        Self::Note,
        Self::Smallest,
    ];

    /// Face and size.
    pub fn font(self) -> FontId {
        match self {
            Self::Glance => Face::Figures.at(148.0),
            Self::Figure => Face::Figures.at(40.0),
            Self::Unit => Face::Italic.at(18.0),
            Self::FigureCompact => Face::Figures.at(25.0),
            Self::Title => Face::Figures.at(26.0),
            Self::Section => Face::Italic.at(22.0),
            Self::Value => Face::Figures.at(17.0),
            Self::Lead => Face::Medium.at(18.0),
            Self::Name => Face::Semibold.at(15.0),
            Self::Text => Face::Medium.at(14.0),
            Self::Button => Face::Semibold.at(14.0),
            Self::Label => Face::Semibold.at(13.5),
            Self::Note => Face::Regular.at(13.0),
            Self::Smallest => Face::Regular.at(12.5),
        }
    }

    /// The colour this role has on sheets and table.
    pub fn colour(self, theme: &Theme) -> Color32 {
        match self {
            Self::Unit | Self::Label | Self::Note | Self::Smallest => theme.ink2,
            _ => theme.ink,
        }
    }

    /// `text` in this role, in the palette of `ui`.
    pub fn text(self, ui: &Ui, text: impl Into<String>) -> RichText {
        RichText::new(text)
            .font(self.font())
            .color(self.colour(&Theme::of(ui)))
    }

    /// A label in this role.
    pub fn label(self, ui: &mut Ui, text: impl Into<String>) -> eframe::egui::Response {
        let text: WidgetText = self.text(ui, text).into();
        ui.label(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Signs that stand somewhere in the window besides letters and digits.
    const SIGNS: &str = "×±→←↑↓″′½¼¾⅛⅜⅝⅞−–…·≈≤≥°µπ⁄€•,.:;?!()+%'\u{2019}";

    #[test]
    fn both_faces_have_every_sign_we_write() {
        let ctx = Context::default();
        // Without the toolkit's faces behind them, so that ours must have it.
        let mut fonts = definitions();
        for face in Face::ALL {
            let chain = vec![face.name().to_owned()];
            fonts.families.insert(face.family(), chain);
        }
        ctx.set_fonts(fonts);
        let output = ctx.run_ui(Default::default(), |ui| {
            for face in Face::ALL {
                for sign in SIGNS
                    .chars()
                    .chain('0'..='9')
                    .chain('A'..='Z')
                    .chain('a'..='z')
                {
                    let font = face.at(16.0);
                    let there = ui.fonts_mut(|fonts| fonts.has_glyph(&font, sign));
                    assert!(there, "{face:?} lacks {sign:?}");
                }
            }
        });
        output.drop_without_applying_deltas();
    }

    #[test]
    fn figures_keep_their_width_from_digit_to_digit() {
        let ctx = Context::default();
        load(&ctx);
        let output = ctx.run_ui(Default::default(), |ui| {
            for role in [Role::Figure, Role::Value, Role::Text, Role::Note] {
                let width = |digit| ui.fonts_mut(|f| f.glyph_width(&role.font(), digit));
                for digit in '1'..='9' {
                    let (one, other) = (width('0'), width(digit));
                    assert!(one > 0.0, "{role:?}: no width");
                    assert!(
                        (one - other).abs() < 0.02,
                        "{role:?}: 0 {one}, {digit} {other}"
                    );
                }
            }
        });
        output.drop_without_applying_deltas();
    }

    #[test]
    fn the_pattern_book_face_is_never_set_small() {
        for role in Role::ALL {
            let font = role.font();
            if font.family == Face::Figures.family() || font.family == Face::Italic.family() {
                assert!(font.size >= 15.0, "{role:?} is set at {}", font.size);
            }
        }
    }
}
