//! Every picture, made once: of the cord from its side and from its end, and on paper
//! the work sheet with the disc, the moves and the lists.
//!
//! A picture follows from a solved [`Form`](crate::cord::Form), the
//! [`Thread`] of each strand, a [`View`] and a [`Ground`]; the same figures
//! always give the same bytes. No window is needed, and no arithmetic of the
//! craft is done here.

mod cord;
mod filling;
mod raster;
mod relief;
mod section;
mod sheet;
mod solid;
mod svg;
mod take;
mod thread;
mod unrolled;
mod view;

pub use cord::{
    CloseUp, Float, PieceSize, Stage, StrandsSeen, TooLarge, close_up, cord_picture, floats,
    large_picture, piece_size, strand_seen, strands_seen, whole_piece,
};
pub use filling::{Filling, fillings};
pub use raster::{Raster, png};
pub use relief::{Place, Relief};
pub use section::{SectionDisc, section};
pub use sheet::{
    Page, Paper, PdfError, SheetInput, SpareFont, letters_lacking, page_svg, pages_pdf, work_sheet,
};
pub use solid::{Finish, Solid, SolidError, Tube, finishes, solid};
pub use svg::{Svg, cord_svg, disc_svg, outline};
pub use take::{Frame, Keepsake, TakeError, Taken, Taking};
pub use thread::{Ends, Thread, threads};
pub use unrolled::unrolled;
pub use view::{Bend, Detail, Ground, View};
