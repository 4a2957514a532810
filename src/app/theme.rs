//! Colours by day and by night, and what egui is told of them.
//!
//! Warm paper, linen, one thread of one colour. The names are what a thing is
//! (table, paper, thread), never what it looks like, so that both palettes read
//! alike. A strand's colour is the maker's and never comes from here.
//!
//! This module knows no widget of ours; `controls` and `disc` read it.

use eframe::egui::style::{ScrollStyle, Selection, TextCursorStyle, WidgetVisuals, Widgets};
use eframe::egui::{
    self, Color32, CornerRadius, CursorIcon, FontFamily, FontId, Margin, Shadow, Stroke, Style,
    TextStyle, Ui, Vec2, Visuals,
};

use super::fonts::{self, Role};

/// Which palette is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Light {
    /// Warm paper.
    Day,
    /// Lamp light.
    Night,
}

/// Every colour of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// Which palette this is.
    pub light: Light,
    /// Ground of the window.
    pub table: Color32,
    /// Rail, and what is pressed.
    pub deep: Color32,
    /// Sheets, figure band, rings under numbers.
    pub paper: Color32,
    /// Fields, hover, notices.
    pub well: Color32,
    /// Ground of what is chosen.
    pub soft: Color32,
    /// Weave under the cord.
    pub linen: Color32,
    /// Second thread of the weave.
    pub linen2: Color32,
    /// Cloth tape.
    pub tape: Color32,
    /// Disc at its middle.
    pub foam: Color32,
    /// Disc at its rim.
    pub foam2: Color32,
    /// Slots and rim of the disc.
    pub foamline: Color32,
    /// Hole of the disc.
    pub hole: Color32,
    /// Hairlines: decoration only, never the sole edge of a control.
    pub line: Color32,
    /// Edges of controls, axes.
    pub line2: Color32,
    /// Text, figures, lines of plots.
    pub ink: Color32,
    /// Labels, units, ranges.
    pub ink2: Color32,
    /// Notes, captions; never on foam or linen by night.
    pub ink3: Color32,
    /// Numbers of free slots.
    pub slot: Color32,
    /// The one accent.
    pub thread: Color32,
    /// Text on the accent.
    pub onthread: Color32,
    /// Measured, fits.
    pub ok: Color32,
    /// At the edge, take care.
    pub caution: Color32,
    /// Failed.
    pub stop: Color32,
    /// Tint of shadows, opaque; [`Theme::shade`] thins it.
    pub shadow: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    let [_, r, g, b] = hex.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

const DAY: Theme = Theme {
    light: Light::Day,
    table: rgb(0xE8E1D4),
    deep: rgb(0xDCD3C3),
    paper: rgb(0xFBF8F1),
    well: rgb(0xF2ECE0),
    soft: rgb(0xF6E1E4),
    linen: rgb(0xE3DACA),
    linen2: rgb(0xD8CDBA),
    tape: rgb(0xFBF6E9),
    foam: rgb(0xF4EEE1),
    foam2: rgb(0xE4DAC7),
    foamline: rgb(0x93856E),
    hole: rgb(0x3A312A),
    line: rgb(0xDDD4C4),
    line2: rgb(0x897C68),
    ink: rgb(0x2B241F),
    ink2: rgb(0x574D42),
    ink3: rgb(0x62574C),
    slot: rgb(0x5E5348),
    thread: rgb(0xA8174A),
    onthread: rgb(0xFFF9F4),
    ok: rgb(0x2C654A),
    caution: rgb(0x7A5200),
    stop: rgb(0x7E2A12),
    shadow: rgb(0x3A2614),
};

// Linen is a mid tone on purpose: dark cords must show on it.
const NIGHT: Theme = Theme {
    light: Light::Night,
    table: rgb(0x191512),
    deep: rgb(0x120F0D),
    paper: rgb(0x241F1B),
    well: rgb(0x2E2823),
    soft: rgb(0x4A2431),
    linen: rgb(0x4A4239),
    linen2: rgb(0x554C42),
    tape: rgb(0x2E2823),
    foam: rgb(0x544B42),
    foam2: rgb(0x423A32),
    foamline: rgb(0xA99B87),
    hole: rgb(0x0C0A08),
    line: rgb(0x3B332C),
    line2: rgb(0x8A7D6C),
    ink: rgb(0xF2EADD),
    ink2: rgb(0xCBBFAE),
    ink3: rgb(0xB5A998),
    slot: rgb(0xD6CBBB),
    thread: rgb(0xFF86A4),
    onthread: rgb(0x2B0714),
    ok: rgb(0x86C9A5),
    caution: rgb(0xE3B252),
    stop: rgb(0xF09A7A),
    shadow: rgb(0x000000),
};

impl Theme {
    /// The palette by day.
    pub const fn light() -> Self {
        DAY
    }

    /// The palette by night.
    pub const fn dark() -> Self {
        NIGHT
    }

    /// The palette in force where `ui` draws.
    pub fn of(ui: &Ui) -> Self {
        if ui.visuals().dark_mode { NIGHT } else { DAY }
    }

    /// Whether this is the palette by night.
    pub fn is_night(&self) -> bool {
        self.light == Light::Night
    }

    /// The shadow's tint at a strength given for daylight, 0 to 1.
    ///
    /// By night 2.75 times that, tried: less does not show on a dark table.
    pub fn shade(&self, strength: f32) -> Color32 {
        let strength = if self.is_night() {
            strength * 2.75
        } else {
            strength
        };
        self.shadow.gamma_multiply(strength.min(1.0))
    }

    /// The accent under the pointer: deeper by day, brighter by night.
    pub fn thread_hover(&self) -> Color32 {
        self.thread_towards(0.14, Color32::WHITE)
    }

    /// The accent while pressed.
    pub fn thread_pressed(&self) -> Color32 {
        self.thread_towards(0.26, self.soft)
    }

    fn thread_towards(&self, share: f32, by_night: Color32) -> Color32 {
        let end = if self.is_night() {
            by_night
        } else {
            Color32::BLACK
        };
        self.thread.lerp_to_gamma(end, share)
    }
}

/// Fonts and both palettes handed to egui; once, before the first frame.
pub fn dress(ctx: &egui::Context) {
    fonts::load(ctx);
    ctx.set_style_of(egui::Theme::Light, style(&DAY));
    ctx.set_style_of(egui::Theme::Dark, style(&NIGHT));
    ctx.options_mut(|options| options.zoom_with_keyboard = true);
}

fn style(theme: &Theme) -> Style {
    let mut style = Style {
        visuals: visuals(theme),
        animation_time: 0.08,
        explanation_tooltips: false,
        ..Style::default()
    };
    style.text_styles = [
        (TextStyle::Body, Role::Text.font()),
        (TextStyle::Button, Role::Button.font()),
        (TextStyle::Heading, Role::Section.font()),
        (TextStyle::Small, Role::Smallest.font()),
        (
            TextStyle::Monospace,
            FontId::new(13.0, FontFamily::Monospace),
        ),
    ]
    .into();
    style.spacing.item_spacing = Vec2::new(8.0, 8.0);
    style.spacing.button_padding = Vec2::new(16.0, 7.0);
    style.spacing.interact_size = Vec2::new(34.0, 26.0);
    style.spacing.window_margin = Margin::same(22);
    style.spacing.menu_margin = Margin::same(8);
    style.spacing.tooltip_width = 300.0;
    style.spacing.scroll = scroll(style.spacing.scroll);
    style.interaction.tooltip_delay = 0.5;
    style.interaction.tooltip_grace_time = 0.2;
    style.interaction.selectable_labels = false;
    style
}

/// A thin bar that is always seen where there is more, and never shifts the page.
fn scroll(base: ScrollStyle) -> ScrollStyle {
    ScrollStyle {
        floating: true,
        bar_width: 8.0,
        floating_width: 4.0,
        handle_min_length: 28.0,
        foreground_color: true,
        dormant_background_opacity: 0.0,
        active_background_opacity: 0.0,
        interact_background_opacity: 0.25,
        dormant_handle_opacity: 0.55,
        active_handle_opacity: 0.7,
        interact_handle_opacity: 1.0,
        ..base
    }
}

fn visuals(theme: &Theme) -> Visuals {
    let base = if theme.is_night() {
        Visuals::dark()
    } else {
        Visuals::light()
    };
    Visuals {
        override_text_color: None,
        weak_text_color: Some(theme.ink2),
        widgets: widgets(theme),
        selection: Selection {
            bg_fill: theme.soft,
            stroke: Stroke::new(1.0, theme.ink),
        },
        hyperlink_color: theme.thread,
        faint_bg_color: theme.well,
        extreme_bg_color: theme.well,
        text_edit_bg_color: Some(theme.well),
        code_bg_color: theme.well,
        warn_fg_color: theme.caution,
        error_fg_color: theme.stop,
        window_corner_radius: CornerRadius::same(10),
        window_shadow: slip_shadow(theme),
        window_fill: theme.paper,
        window_stroke: Stroke::new(1.0, theme.line),
        window_highlight_topmost: false,
        menu_corner_radius: CornerRadius::same(8),
        panel_fill: theme.table,
        popup_shadow: slip_shadow(theme),
        text_cursor: TextCursorStyle {
            stroke: Stroke::new(2.0, theme.thread),
            ..base.text_cursor.clone()
        },
        slider_trailing_fill: true,
        interact_cursor: Some(CursorIcon::PointingHand),
        ..base
    }
}

/// Shadow of what lies on the table.
pub fn sheet_shadow(theme: &Theme) -> Shadow {
    Shadow {
        offset: [0, 3],
        blur: 18,
        spread: 0,
        color: theme.shade(0.14),
    }
}

/// Shadow of what lies over a sheet: slips, tips, menus.
pub fn slip_shadow(theme: &Theme) -> Shadow {
    Shadow {
        offset: [0, 5],
        blur: 22,
        spread: 0,
        color: theme.shade(0.16),
    }
}

fn widgets(theme: &Theme) -> Widgets {
    let rest = WidgetVisuals {
        bg_fill: theme.well,
        weak_bg_fill: theme.paper,
        bg_stroke: Stroke::new(1.0, theme.line2),
        corner_radius: CornerRadius::same(5),
        fg_stroke: Stroke::new(1.6, theme.ink),
        expansion: 0.0,
    };
    Widgets {
        noninteractive: WidgetVisuals {
            bg_fill: theme.paper,
            bg_stroke: Stroke::new(1.0, theme.line),
            fg_stroke: Stroke::new(1.0, theme.ink),
            ..rest
        },
        inactive: WidgetVisuals {
            bg_fill: theme.line2,
            ..rest
        },
        hovered: WidgetVisuals {
            bg_fill: theme.ink2,
            weak_bg_fill: theme.well,
            bg_stroke: Stroke::new(1.0, theme.ink),
            ..rest
        },
        active: WidgetVisuals {
            bg_fill: theme.ink,
            weak_bg_fill: theme.deep,
            bg_stroke: Stroke::new(1.0, theme.ink),
            ..rest
        },
        open: WidgetVisuals {
            weak_bg_fill: theme.well,
            bg_stroke: Stroke::new(1.0, theme.ink),
            ..rest
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance of WCAG 2.2, "relative luminance".
    fn luminance(colour: Color32) -> f64 {
        let [r, g, b, _] = colour.to_array().map(|c| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Contrast ratio of WCAG 2.2, 1 to 21.
    fn contrast(one: Color32, other: Color32) -> f64 {
        let (a, b) = (luminance(one), luminance(other));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    fn assert_readable(what: &str, text: Color32, ground: Color32, least: f64) {
        let ratio = contrast(text, ground);
        assert!(
            ratio >= least,
            "{what}: {text:?} on {ground:?} has {ratio:.2}"
        );
    }

    #[test]
    fn black_on_white_has_the_contrast_of_the_standard() {
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn every_text_is_readable_on_sheets_table_and_wells() {
        for theme in [DAY, NIGHT] {
            let grounds = [
                theme.table,
                theme.deep,
                theme.paper,
                theme.well,
                theme.soft,
                theme.tape,
            ];
            for ground in grounds {
                for text in [
                    theme.ink,
                    theme.ink2,
                    theme.ink3,
                    theme.slot,
                    theme.thread,
                    theme.ok,
                    theme.caution,
                    theme.stop,
                ] {
                    assert_readable("text", text, ground, 4.5);
                }
            }
        }
    }

    #[test]
    fn what_stands_on_foam_and_linen_is_readable() {
        for theme in [DAY, NIGHT] {
            for ground in [theme.foam, theme.foam2, theme.linen] {
                for text in [theme.ink, theme.ink2, theme.slot] {
                    assert_readable("on foam or linen", text, ground, 4.5);
                }
            }
        }
    }

    #[test]
    fn the_main_button_is_readable_at_rest_hovered_and_pressed() {
        for theme in [DAY, NIGHT] {
            for ground in [theme.thread, theme.thread_hover(), theme.thread_pressed()] {
                assert_readable("main button", theme.onthread, ground, 4.5);
            }
        }
    }

    #[test]
    fn edges_of_controls_part_them_from_their_ground() {
        // WCAG 2.2, 1.4.11: three to one for what a control is known by.
        for theme in [DAY, NIGHT] {
            for ground in [theme.paper, theme.table, theme.well] {
                assert_readable("edge", theme.line2, ground, 3.0);
            }
            assert_readable("slots", theme.foamline, theme.foam, 3.0);
        }
    }
}
