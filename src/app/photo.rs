//! A photograph that colours are taken from: read on a thread of its own, since
//! a large one takes a while.

use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui::{ColorImage, Context, TextureHandle, TextureId, TextureOptions};
use image::{DynamicImage, ImageDecoder, ImageReader};

use crate::material::colour::{Main, Photograph};

use super::App;
use super::errand::Errand;
use super::stage::Stage;

/// Longest side a photograph is kept at, pixels: more than a screen shows of it.
const LONGEST: u32 = 1600;

/// Main colours that are looked for.
const MAINS: usize = 9;

/// A photograph that was read.
#[derive(Debug)]
pub struct Photo {
    /// What its file is called.
    pub name: String,
    /// Its pixels.
    pub photograph: Arc<Photograph>,
    /// Its main colours, the largest share first.
    pub mains: Vec<Main>,
}

/// A picture that hangs on the screen.
pub struct Hung(TextureHandle);

impl Hung {
    /// What egui knows it by.
    pub fn id(&self) -> TextureId {
        self.0.id()
    }
}

impl fmt::Debug for Hung {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Hung").field(&self.id()).finish()
    }
}

/// The photograph on the table, while it is read and after.
#[derive(Debug, Default)]
pub struct PhotoView {
    errand: Option<Errand<Result<Photo, String>>>,
    /// The photograph, once it is read.
    pub photo: Option<Photo>,
    /// Its picture for the screen.
    pub texture: Option<Hung>,
    /// Why it could not be read.
    pub trouble: Option<String>,
    /// Where the keyboard picks: shares of its width and height.
    pub cursor: (f32, f32),
}

impl PhotoView {
    /// Sends for a photograph.
    pub fn open(&mut self, path: &Path, ctx: &Context) {
        let path: PathBuf = path.to_path_buf();
        self.trouble = None;
        self.errand = Some(Errand::send("photograph", ctx, move |teller| {
            let read = read(&path).map_err(|why| format!("{}: {why}.", path.display()));
            teller.tell(read);
        }));
    }

    /// Whether one is being read.
    pub fn is_busy(&self) -> bool {
        self.errand.is_some()
    }

    /// Takes home what was read.
    pub fn collect(&mut self, ctx: &Context) {
        let heard = self.errand.as_ref().map(Errand::heard);
        for read in heard.into_iter().flatten() {
            self.errand = None;
            match read {
                Ok(photo) => {
                    self.texture = Some(hung(&photo, ctx));
                    self.photo = Some(photo);
                    self.cursor = (0.5, 0.5);
                }
                Err(why) => self.trouble = Some(why),
            }
        }
    }
}

fn hung(photo: &Photo, ctx: &Context) -> Hung {
    let size = photo.photograph.size();
    let image = ColorImage::from_rgba_unmultiplied(size, photo.photograph.rgba());
    Hung(ctx.load_texture("photograph", image, TextureOptions::LINEAR))
}

/// Reads a photograph, turned as the camera was held.
fn read(path: &Path) -> Result<Photo, String> {
    let picture = upright(path).map_err(|error| error.to_string())?;
    let picture = match picture.width().max(picture.height()) {
        side if side > LONGEST => picture.thumbnail(LONGEST, LONGEST),
        _ => picture,
    };
    let pixels = picture.to_rgba8();
    let [width, height] = [pixels.width(), pixels.height()].map(|side| side as usize);
    let photograph = Photograph::new(width, height, pixels.into_raw());
    let photograph = photograph.map_err(|error| error.to_string())?;
    let name = path.file_stem().unwrap_or(path.as_os_str());
    Ok(Photo {
        name: name.to_string_lossy().into_owned(),
        mains: photograph.main_colours(MAINS),
        photograph: Arc::new(photograph),
    })
}

fn upright(path: &Path) -> image::ImageResult<DynamicImage> {
    let mut decoder = ImageReader::open(path)?
        .with_guessed_format()?
        .into_decoder()?;
    let held = decoder.orientation()?;
    let mut picture = DynamicImage::from_decoder(decoder)?;
    picture.apply_orientation(held);
    Ok(picture)
}

impl App {
    /// Sends for a photograph and shows where its colours are taken.
    pub(super) fn open_photograph(&mut self, path: &Path, ctx: &Context) {
        self.view.stage = Stage::Look;
        self.view.files.open = false;
        self.view.look.show_photograph();
        self.view.look.colours.photo.open(path, ctx);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn png_and_jpeg_are_read_and_large_ones_made_smaller() {
        let folder = tempfile::tempdir().unwrap();
        let picture = image::RgbImage::from_fn(2000, 500, |x, _| {
            image::Rgb(if x < 1000 {
                [200, 40, 40]
            } else {
                [20, 60, 160]
            })
        });
        for ending in ["png", "jpg"] {
            let path = folder.path().join(format!("beach.{ending}"));
            picture.save(&path).unwrap();
            let photo = read(&path).unwrap();
            assert_eq!(photo.name, "beach");
            assert_eq!(photo.photograph.size(), [1600, 400]);
            let near = |wanted: [u8; 3]| {
                let wanted = crate::material::Colour(wanted);
                let mut mains = photo.mains.iter();
                mains.any(|main| main.colour.difference(wanted) < 3.0)
            };
            assert!(
                near([200, 40, 40]) && near([20, 60, 160]),
                "{:?}",
                photo.mains
            );
        }
    }

    #[test]
    fn what_is_no_picture_is_told_in_words() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("words.jpg");
        std::fs::write(&path, "no picture").unwrap();
        assert!(!read(&path).unwrap_err().is_empty());
        assert!(read(Path::new("/no/such/beach.png")).is_err());
    }
}
