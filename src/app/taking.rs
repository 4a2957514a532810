//! Things taken along are made on a thread of their own and written there.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui::{self, ColorImage, Context};

use crate::cord::Form;
use crate::document::Design;
use crate::drawing::{Frame, Ground, Keepsake, Taking};

use super::App;
use super::controls::Tone;
use super::errand::{Errand, Teller};
use super::grounds::Lying;
use super::strip::State;
use super::take_slip::Under;
use super::theme::Theme;
use super::view::{Message, Offers};

/// What comes of a thing that was to be taken along.
#[derive(Debug)]
pub(super) enum Brought {
    /// It lies in its file.
    Written(PathBuf),
    /// The picture that goes to the clipboard.
    Picture(ColorImage),
    /// Why there is none.
    Failed(String),
}

/// All that it is made of, apart from the window.
struct Order {
    design: Design,
    form: Arc<Form>,
    thickness_mm: f64,
    frame: Frame,
    length_mm: f64,
}

/// Pixels to a thread of the linen under a picture, as on a screen twice as fine as usual.
const CLOTH: f32 = 2.0;

impl App {
    /// Makes what the slip says and writes it there.
    pub(super) fn take_to(&mut self, path: PathBuf, ctx: &Context) {
        let what = self.view.take.what;
        let path = with_kind(path, what);
        self.view.take.open = false;
        self.send_for(ctx, move |order| order.written(what, &path));
    }

    /// Draws the picture that the slip says and lays it on the clipboard.
    pub(super) fn copy_picture(&mut self, ctx: &Context) {
        self.send_for(ctx, Order::picture);
    }

    fn send_for(&mut self, ctx: &Context, make: impl FnOnce(&Order) -> Brought + Send + 'static) {
        let Some(order) = self.order_to_take(ctx) else {
            self.view.tell(failed("there is no cord yet"));
            return;
        };
        let work = move |teller: Teller<Brought>| teller.tell(make(&order));
        self.taking = Some(Errand::send("take along", ctx, work));
    }

    fn order_to_take(&self, ctx: &Context) -> Option<Order> {
        let (slip, strip) = (&self.view.take, &self.view.strip);
        let cord = self.solver.solved().cord()?;
        let rested = self.solver.rested().form();
        let rested = rested.filter(|_| strip.state == State::Rested);
        let form = rested.map_or_else(|| Arc::new(cord.form.clone()), Arc::clone);
        let theme = match ctx.theme() {
            egui::Theme::Light => Theme::light(),
            egui::Theme::Dark => Theme::dark(),
        };
        let lying = self.settings.lying;
        let ground = match slip.under {
            Under::AsSeen => lying
                .unwrap_or_else(|| Lying::of_window(&theme))
                .ground(CLOTH),
            Under::Nothing => Ground::Clear,
        };
        let [width, height] = slip.size;
        let figures = &cord.figures;
        Some(Order {
            design: self.history.now().clone(),
            form,
            thickness_mm: figures
                .thickness_on_disc
                .value
                .max(figures.width_rested.value),
            frame: Frame {
                width,
                height,
                per_mm: None,
                start_mm: strip.along,
                roll: strip.turn,
                ground,
            },
            length_mm: slip.length_mm,
        })
    }

    /// Takes home what was made.
    pub(super) fn bring_home(&mut self, ctx: &Context) {
        let heard = self.taking.as_ref().map(Errand::heard);
        for brought in heard.into_iter().flatten() {
            self.taking = None;
            match brought {
                Brought::Written(path) => self.view.tell(done(
                    format!("{} is written.", name_of(&path)),
                    format!("It lies in {}.", folder_of(&path)),
                )),
                Brought::Picture(image) => {
                    ctx.copy_image(image);
                    let words = "The picture is on the clipboard.".to_owned();
                    self.view.tell(done(words, String::new()));
                }
                Brought::Failed(why) => self.view.tell(failed(&why)),
            }
        }
    }
}

impl Order {
    fn taking(&self) -> Taking<'_> {
        Taking {
            design: &self.design,
            form: &self.form,
            thickness_mm: self.thickness_mm,
            frame: self.frame,
            length_mm: self.length_mm,
        }
    }

    fn written(&self, what: Keepsake, path: &Path) -> Brought {
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        let made = what.make(&self.taking(), &name);
        let written = made
            .map_err(|error| error.to_string())
            .and_then(|made| made.write(path).map_err(|error| error.to_string()));
        match written {
            Ok(()) => Brought::Written(path.to_owned()),
            Err(why) => Brought::Failed(why),
        }
    }

    fn picture(&self) -> Brought {
        match self.taking().raster() {
            Ok(raster) => {
                let size = [raster.width, raster.height];
                Brought::Picture(ColorImage::from_rgba_unmultiplied(size, &raster.rgba))
            }
            Err(error) => Brought::Failed(error.to_string()),
        }
    }
}

/// The same path, ending as a thing of this kind does.
pub(super) fn with_kind(path: PathBuf, what: Keepsake) -> PathBuf {
    let ends_so = |end: &std::ffi::OsStr| end.eq_ignore_ascii_case(what.ending());
    if path.extension().is_some_and(ends_so) {
        return path;
    }
    let mut name = path.into_os_string();
    name.push(".");
    name.push(what.ending());
    PathBuf::from(name)
}

fn name_of(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().into_owned()
}

fn folder_of(path: &Path) -> String {
    let folder = path.parent().filter(|it| !it.as_os_str().is_empty());
    folder.unwrap_or(Path::new(".")).display().to_string()
}

fn done(happened: String, kept: String) -> Message {
    Message {
        tone: Tone::Info,
        happened,
        kept,
        advice: String::new(),
        offers: Offers::Nothing,
    }
}

pub(super) fn failed(why: &str) -> Message {
    Message {
        tone: Tone::Stop,
        happened: format!("Nothing was written: {why}."),
        kept: "The design is as it was.".to_owned(),
        advice: "Choose another size, length or folder.".to_owned(),
        offers: Offers::Nothing,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_ends_as_its_kind_does() {
        let ended = |path: &str, what| with_kind(PathBuf::from(path), what);
        assert_eq!(
            ended("/a/ring", Keepsake::SolidStl),
            PathBuf::from("/a/ring.stl")
        );
        assert_eq!(
            ended("ring.STL", Keepsake::SolidStl),
            PathBuf::from("ring.STL")
        );
        assert_eq!(
            ended("ring no. 2", Keepsake::CordPng),
            PathBuf::from("ring no. 2.png")
        );
    }
}
