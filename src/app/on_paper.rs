//! The work sheet and the lists as files, made on a thread of their own.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use eframe::egui::Context;

use crate::cord::{Figures, Form};
use crate::document::{Design, spare_fonts};
use crate::drawing::{
    Page, Paper, SheetInput, SpareFont, Taken, letters_lacking, page_svg, pages_pdf, work_sheet,
};
use crate::plan::Workshop;
use crate::quantity::{Day, UnitSystem};

use super::App;
use super::errand::{Errand, Teller};
use super::taking::{Brought, failed};

/// What is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Leaf {
    /// The work sheet, to print.
    #[default]
    Pdf,
    /// The work sheet, a picture of each page.
    Svg,
    /// The cut list, comma-separated.
    CutList,
    /// The shopping list, comma-separated.
    Shopping,
}

impl Leaf {
    /// How its files end.
    pub fn ending(self) -> &'static str {
        self.endings()[0]
    }

    /// The same, as a dialog asks for it.
    pub fn endings(self) -> &'static [&'static str; 1] {
        match self {
            Self::Pdf => &["pdf"],
            Self::Svg => &["svg"],
            Self::CutList | Self::Shopping => &["csv"],
        }
    }
}

/// How the work sheet is wanted.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OnPaper {
    /// What is written.
    pub leaf: Leaf,
    /// On which paper.
    pub paper: Paper,
    /// Whether every further size gets a sheet of its own.
    pub all_sizes: bool,
    /// What is typed into the box for a path.
    pub path: String,
}

/// All that it is made of, apart from the window.
struct Order {
    design: Design,
    figures: Figures,
    rested: Arc<Form>,
    workshop: Workshop,
    units: UnitSystem,
    /// The day of printing.
    day: String,
    wanted: OnPaper,
}

impl App {
    /// Makes what is wanted and writes it there.
    pub(super) fn leaf_to(&mut self, path: PathBuf, ctx: &Context) {
        let Some(order) = self.order_on_paper() else {
            self.view.tell(failed("there is no cord yet"));
            return;
        };
        let path = with_ending(path, order.wanted.leaf.ending());
        let work = move |teller: Teller<Brought>| {
            teller.tell(match order.written(&path) {
                Ok(()) => Brought::Written(path),
                Err(why) => Brought::Failed(why),
            });
        };
        self.taking = Some(Errand::send("on paper", ctx, work));
    }

    fn order_on_paper(&self) -> Option<Order> {
        let figures = self.solver.known().figures()?.clone();
        let cord = self.solver.solved().cord()?;
        let rested = self.solver.rested().form().cloned();
        Some(Order {
            design: self.history.now().clone(),
            figures,
            rested: rested.unwrap_or_else(|| Arc::new(cord.form.clone())),
            workshop: self.workbench.now().clone(),
            units: self.settings.units,
            day: today(),
            wanted: self.view.cut.on_paper.clone(),
        })
    }
}

impl Order {
    fn written(&self, path: &Path) -> Result<(), String> {
        for (path, bytes) in self.files(path)? {
            let taken = Taken {
                bytes,
                beside: None,
            };
            taken.write(&path).map_err(|error| error.to_string())?;
        }
        Ok(())
    }

    /// What is to be written, and where; pictures of further pages are numbered.
    fn files(&self, path: &Path) -> Result<Vec<(PathBuf, Vec<u8>)>, String> {
        let name = &self.design.name;
        let plan = || self.design.plan(&self.figures, &self.workshop, self.units);
        let one = |bytes: Vec<u8>| Ok(vec![(path.to_owned(), bytes)]);
        match self.wanted.leaf {
            Leaf::Pdf => one(pages_pdf(name, &self.pages()).map_err(|error| error.to_string())?),
            Leaf::Svg => {
                let pages = self.pages();
                let svg = |(k, page)| (numbered(path, k), page_svg(name, page).into_bytes());
                Ok(pages.iter().enumerate().map(svg).collect())
            }
            Leaf::CutList => one(plan().cut.csv(self.design.strands.len()).into_bytes()),
            Leaf::Shopping => one(plan()
                .shopping
                .csv(self.workshop.prices.places)
                .into_bytes()),
        }
    }

    /// The sheet of the piece, then one for each size where that is wished.
    fn pages(&self) -> Vec<Page> {
        let mut pages = self.sheet(&self.design, "");
        let sizes = &self.design.piece.sizes;
        for size in sizes.iter().filter(|_| self.wanted.all_sizes) {
            let mut design = self.design.clone();
            design.piece = self.design.piece.of_size(size);
            pages.extend(self.sheet(&design, &size.name));
        }
        pages
    }

    fn sheet(&self, design: &Design, copy: &str) -> Vec<Page> {
        let plan = design.plan(&self.figures, &self.workshop, self.units);
        let input = SheetInput {
            design,
            figures: &self.figures,
            rested: &self.rested,
            plan: &plan,
            units: self.units,
            paper: self.wanted.paper,
            date: &self.day,
            copy,
            spare: &[],
        };
        let spare: Vec<SpareFont> = spare_fonts(&letters_lacking(&input))
            .into_iter()
            .map(|(bytes, index)| SpareFont::new(bytes, index))
            .collect();
        work_sheet(&SheetInput {
            spare: &spare,
            ..input
        })
    }
}

/// The day now, by the clock of the world.
fn today() -> String {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    Day::of_seconds(since.map_or(0, |since| since.as_secs())).to_string()
}

/// The first page under the name that was given, the others numbered.
fn numbered(path: &Path, page: usize) -> PathBuf {
    if page == 0 {
        return path.to_owned();
    }
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!("{stem}-{}.svg", page + 1))
}

/// The same path with this ending.
pub(crate) fn with_ending(path: PathBuf, ending: &str) -> PathBuf {
    let ends_so = |end: &std::ffi::OsStr| end.eq_ignore_ascii_case(ending);
    if path.extension().is_some_and(ends_so) {
        return path;
    }
    let mut name = path.into_os_string();
    name.push(".");
    name.push(ending);
    PathBuf::from(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn further_pages_are_numbered_and_every_leaf_has_its_ending() {
        let path = Path::new("/a/ring.svg");
        assert_eq!(numbered(path, 0), path);
        assert_eq!(numbered(path, 2), Path::new("/a/ring-3.svg"));
        let typed = with_ending("/a/ring no. 2".into(), Leaf::Shopping.ending());
        assert_eq!(typed, Path::new("/a/ring no. 2.csv"));
    }
}
