//! A cord unrolled beside the window.

use std::sync::Arc;

use eframe::egui::Context;

use crate::app::errand::Errand;
use crate::cord::Cord;
use crate::surface::Surface;

use super::chart::Chart;

/// A cord that is being unrolled for a size, pixels.
#[derive(Debug)]
pub(super) struct Unrolling {
    pub(super) cord: Arc<Cord>,
    pub(super) size: [usize; 2],
    errand: Errand<Option<Chart>>,
}

impl Unrolling {
    /// Sends for the surface of a cord.
    pub(super) fn send(wake: &Context, cord: &Arc<Cord>, size: [usize; 2]) -> Self {
        let form = cord.form.clone();
        let errand = Errand::send("surface", wake, move |teller| {
            let surface = Surface::new(&form).map(Arc::new);
            if !teller.is_stopped() {
                teller.tell(surface.map(|it| Chart::new(it, size, [0.0; 2], false)));
            }
        });
        Self {
            cord: Arc::clone(cord),
            size,
            errand,
        }
    }

    /// Whether it is for this cord and size.
    pub(super) fn is_for(&self, cord: &Arc<Cord>, size: [usize; 2]) -> bool {
        Arc::ptr_eq(&self.cord, cord) && self.size == size
    }

    /// The surface, once it is there; none inside if it cannot be had.
    pub(super) fn heard(&self) -> Option<Option<Chart>> {
        self.errand.heard().pop()
    }
}
