//! The palettes on the shelf: `.gpl` files in the program's own folder, read at
//! the start and kept on disk at once.

use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use crate::material::colour::{self, BadLine, Palette};

use super::App;
use super::ask::proposed_name;
use super::controls::Tone;
use super::view::{Message, Offers};

/// Longest text that is read as a palette, bytes: far above any shade card.
const LONGEST: u64 = 1 << 20;

/// Bad lines that are told; the rest is counted.
const TOLD: usize = 3;

impl App {
    fn palette_folder(&self) -> PathBuf {
        self.home.join("palettes")
    }

    /// Reads the shelf; what cannot be read is passed over and left as it is.
    pub(super) fn read_palettes(&mut self) {
        let files = fs::read_dir(self.palette_folder()).into_iter().flatten();
        let mut paths: Vec<PathBuf> = files.flatten().map(|file| file.path()).collect();
        paths.retain(|path| path.extension().is_some_and(|ending| ending == "gpl"));
        paths.sort();
        self.palettes.clear();
        for path in paths {
            match read(&path) {
                Ok(read) => self.palettes.push(read.palette),
                Err(why) => log::warn!("{}: {why}", path.display()),
            }
        }
        self.palettes.sort_by(|a, b| a.name.cmp(&b.name));
    }

    /// Puts a palette from a file on the shelf and offers its colours.
    pub(super) fn open_palette(&mut self, path: &Path) {
        let shown = path.display();
        match read(path) {
            Ok(read) if read.palette.shades.is_empty() => {
                self.tell_palette(format!("{shown}: there is no colour in this palette."));
            }
            Ok(read) => {
                let known = read.palette.shades.len();
                self.keep_palette(&read.palette);
                if !read.bad.is_empty() {
                    self.view
                        .tell(left_out(&path.display().to_string(), &read.bad, known));
                }
                self.view.files.open = false;
                self.view.show_palettes();
            }
            Err(why) => self.tell_palette(format!("{shown}: {why}.")),
        }
    }

    /// Puts a palette on the shelf, in place of one of its name, and offers it.
    pub(super) fn keep_palette(&mut self, palette: &Palette) {
        let folder = self.palette_folder();
        let file = folder.join(proposed_name(&palette.name, "gpl"));
        let written = fs::create_dir_all(&folder).and_then(|()| write(palette, &file));
        match written {
            Ok(()) => {
                self.read_palettes();
                self.settings.offered.clone_from(&palette.name);
            }
            Err(error) => self.tell_palette(format!("Not kept as a palette: {error}.")),
        }
    }

    /// Takes a palette off the shelf.
    pub(super) fn drop_palette(&mut self, name: &str) {
        let file = self.palette_folder().join(proposed_name(name, "gpl"));
        if let Err(error) = fs::remove_file(file) {
            self.tell_palette(format!("Not taken off the shelf: {error}."));
        }
        if self.settings.offered == name {
            self.settings.offered.clear();
        }
        self.read_palettes();
    }

    /// Writes a palette where the maker wants it.
    pub(super) fn save_palette(&mut self, palette: &Palette, path: &Path) {
        let path = match path.extension() {
            Some(_) => path.to_path_buf(),
            None => path.with_extension("gpl"),
        };
        match write(palette, &path) {
            Ok(()) => self.view.tell(Message {
                tone: Tone::Info,
                happened: format!("The palette is saved as {}.", path.display()),
                kept: String::new(),
                advice: String::new(),
                offers: Offers::Nothing,
            }),
            Err(error) => self.tell_palette(format!("Not saved: {error}.")),
        }
    }

    fn tell_palette(&mut self, happened: String) {
        self.view.tell(Message {
            tone: Tone::Stop,
            happened,
            kept: "The design and your palettes are as they were.".to_owned(),
            advice: "Try another file or another folder.".to_owned(),
            offers: Offers::Nothing,
        });
    }
}

/// A palette from a file; one without a name is called as the file.
fn read(path: &Path) -> Result<colour::Read, String> {
    let file = fs::File::open(path).map_err(|error| error.to_string())?;
    let mut bytes = Vec::new();
    let taken = file.take(LONGEST + 1).read_to_end(&mut bytes);
    taken.map_err(|error| error.to_string())?;
    if bytes.len() as u64 > LONGEST {
        return Err("this is too long for a palette".to_owned());
    }
    let mut read = Palette::read(&String::from_utf8_lossy(&bytes)).map_err(|e| e.to_string())?;
    if read.palette.name.is_empty() {
        let stem = path.file_stem().unwrap_or(path.as_os_str());
        read.palette.name = stem.to_string_lossy().into_owned();
    }
    Ok(read)
}

/// Writes a palette whole or not at all.
fn write(palette: &Palette, path: &Path) -> io::Result<()> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let mut file = tempfile::NamedTempFile::new_in(folder.unwrap_or(Path::new(".")))?;
    file.write_all(palette.to_string().as_bytes())?;
    file.persist(path).map_err(|error| error.error)?;
    Ok(())
}

fn left_out(file: &str, bad: &[BadLine], known: usize) -> Message {
    let told: Vec<String> = bad.iter().take(TOLD).map(ToString::to_string).collect();
    let more = match bad.len().saturating_sub(TOLD) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    Message {
        tone: Tone::Caution,
        happened: format!("{file}: not every line is a colour."),
        kept: format!("The other {known} are offered; the file is as it was."),
        advice: format!("{}{more}.", told.join("; ")),
        offers: Offers::Nothing,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Colour;
    use crate::material::colour::Shade;

    #[test]
    fn a_palette_is_written_whole_and_read_back() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("two.gpl");
        let shade = |rgb, name: &str| Shade {
            colour: Colour(rgb),
            name: name.to_owned(),
        };
        let palette = Palette {
            name: "two".to_owned(),
            shades: vec![shade([1, 2, 3], "night"), shade([250, 240, 230], "linen")],
            ..Palette::default()
        };
        write(&palette, &path).unwrap();
        assert_eq!(read(&path).unwrap().palette, palette);
    }

    #[test]
    fn a_palette_without_a_name_is_called_as_its_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("sea wall.gpl");
        fs::write(&path, "GIMP Palette\n1 2 3").unwrap();
        assert_eq!(read(&path).unwrap().palette.name, "sea wall");
        fs::write(&path, vec![b'#'; LONGEST as usize + 1]).unwrap();
        assert!(read(&path).is_err(), "too long");
    }
}
