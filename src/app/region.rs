//! The four groups of the window, between which F6 jumps.
//!
//! Everything is laid out by hand in the order in which Tab walks: rail, top
//! line, sheets, dock. Each group begins with a spot that can hold the focus
//! and tells a reader where one is.

use eframe::egui::{Id, Key, Modifiers, Rect, Sense, Ui, UiBuilder, WidgetInfo, accesskit, vec2};

/// A group of the window, in the order of F6.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Region {
    /// The rail of stages.
    Rail,
    /// Name, file, undo, units.
    TopLine,
    /// The sheets of the stage.
    Stage,
    /// Figures and strip.
    Dock,
}

impl Region {
    const ALL: [Self; 4] = [Self::Rail, Self::TopLine, Self::Stage, Self::Dock];

    /// What the reader hears.
    fn name(self) -> &'static str {
        match self {
            Self::Rail => "Stages",
            Self::TopLine => "Design",
            Self::Stage => "Sheets",
            Self::Dock => "Figures and cord",
        }
    }

    fn id(self) -> Id {
        Id::unique(("region", self.name()))
    }

    /// Draws `content` in `rect`, as this group and clipped to it.
    pub(super) fn show<R>(self, ui: &mut Ui, rect: Rect, content: impl FnOnce(&mut Ui) -> R) -> R {
        let builder = UiBuilder::new()
            .max_rect(rect)
            .id_salt(self.name())
            .accessibility_role(accesskit::Role::Group)
            .accessibility_label(self.name());
        ui.scope_builder(builder, |ui| {
            ui.set_clip_rect(rect.intersect(ui.clip_rect()));
            self.foothold(ui, rect);
            content(ui)
        })
        .inner
    }

    /// A spot for the focus at the corner of the group.
    fn foothold(self, ui: &Ui, rect: Rect) {
        let spot = Rect::from_min_size(rect.min, vec2(1.0, 1.0));
        let response = ui.interact(spot, self.id(), Sense::focusable_noninteractive());
        response.widget_info(|| {
            WidgetInfo::labeled(
                eframe::egui::Role::Label,
                true,
                format!("{} group", self.name()),
            )
        });
    }
}

/// Moves the focus on F6, and back on Shift F6.
pub(super) fn jump(ui: &Ui) {
    let step = ui.input_mut(|input| {
        if input.consume_key(Modifiers::SHIFT, Key::F6) {
            Region::ALL.len() - 1
        } else {
            usize::from(input.consume_key(Modifiers::NONE, Key::F6))
        }
    });
    if step == 0 {
        return;
    }
    let last: Id = Id::unique("last region");
    let here = ui.data(|data| data.get_temp::<usize>(last));
    let next = here.map_or(0, |here| (here + step) % Region::ALL.len());
    ui.data_mut(|data| data.insert_temp(last, next));
    ui.memory_mut(|memory| memory.request_focus(Region::ALL[next].id()));
}
