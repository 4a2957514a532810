//! Which strand is seen at a pixel: the same answer as the picture's.
//!
//! One pixel is worked out as all of them are, so a click chooses what is seen
//! there, whatever the strands are made of.

use super::run::Run;
use super::stage::{sight_samples, threads_of, tubes_in};
use super::tubes::{Camera, Tubes};
use super::visibility::{Column, Sight};
use crate::cord::Form;
use crate::drawing::thread::Thread;
use crate::drawing::view::{Bend, Detail, View};

/// The strand in the middle of a pixel of the fine picture, counted from its upper
/// left corner; none beside the cord. A core is counted after the strands.
pub fn strand_seen(form: &Form, threads: &[Thread], view: &View, at: [f64; 2]) -> Option<usize> {
    let run = Run::new(form)?;
    let camera = Camera::new(&pixel(&view.bounded(), at), &run);
    let tubes = tubes_in(
        &run,
        &threads_of(run.strands, threads),
        &camera,
        Detail::Fine,
    );
    let samples = sight_samples(&camera, Detail::Fine);
    let sight = Sight::new(&tubes, &camera, run.reach, samples);
    if sight.rows() == 0 {
        return None;
    }
    let column = sight.columns.first()?;
    strand_in(&tubes, column, column.line(samples / 2, 0).1[0])
}

/// The strand that stands at a place of a column.
fn strand_in(tubes: &Tubes, column: &Column, number: u32) -> Option<usize> {
    let segment = *column.segments.get(number as usize)?;
    Some(usize::from(tubes.segments[segment as usize].strand))
}

/// The view that holds nothing but one pixel of this.
fn pixel(view: &View, at: [f64; 2]) -> View {
    let [right, down] = at.map(f64::floor);
    let along = match view.bend {
        Bend::Straight => right / view.pixels_per_mm,
        Bend::Loop { .. } | Bend::Hanging { .. } => 0.0,
    };
    View {
        width: 1,
        height: 1,
        start_mm: view.start_mm + along,
        centre_x: view.centre_x - right,
        centre_y: view.centre_y - down,
        ..*view
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    /// What the whole picture has in the middle of a pixel.
    fn in_picture(form: &Form, view: &View) -> impl Fn(usize, usize) -> Option<usize> {
        let run = Run::new(form).expect("a cord");
        let camera = Camera::new(view, &run);
        let tubes = tubes_in(&run, &threads_of(run.strands, &[]), &camera, Detail::Fine);
        let samples = sight_samples(&camera, Detail::Fine);
        let sight = Sight::new(&tubes, &camera, run.reach, samples);
        move |x, y| {
            if y < sight.top || y >= sight.bottom {
                return None;
            }
            let column = sight.columns.iter().rfind(|it| it.x0 <= x)?;
            let number = column.line(samples / 2, x - column.x0).1[y - sight.top];
            strand_in(&tubes, column, number)
        }
    }

    #[test]
    fn a_pixel_alone_shows_the_strand_that_it_shows_in_the_picture() {
        let form = rope(5, 16, 2.0);
        let straight = View {
            width: 260,
            height: 120,
            pixels_per_mm: 9.0,
            start_mm: -2.0,
            roll: 0.7,
            centre_x: 130.0,
            centre_y: 60.0,
            bend: Bend::Straight,
        };
        let bend = Bend::Loop { inner_mm: 7.0 };
        for view in [straight, View { bend, ..straight }] {
            let whole = in_picture(&form, &view);
            let (mut alike, mut on_cord, mut all) = (0, 0, 0);
            for (x, y) in (0..260)
                .step_by(7)
                .flat_map(|x| (0..120).step_by(5).map(move |y| (x, y)))
            {
                let alone = strand_seen(&form, &[], &view, [x as f64 + 0.4, y as f64 + 0.6]);
                all += 1;
                alike += usize::from(alone == whole(x, y));
                on_cord += usize::from(alone.is_some());
            }
            assert!(on_cord > all / 5, "{on_cord} of {all} pixels on the cord");
            assert!(
                alike * 1000 >= all * 998,
                "{alike} of {all} alike, {:?}",
                view.bend
            );
        }
    }

    #[test]
    fn beside_the_cord_no_strand_is_seen() {
        let form = rope(4, 12, 1.0);
        let view = View {
            width: 100,
            height: 60,
            pixels_per_mm: 4.0,
            start_mm: 0.0,
            roll: 0.0,
            centre_x: 50.0,
            centre_y: 30.0,
            bend: Bend::Straight,
        };
        assert_eq!(strand_seen(&form, &[], &view, [50.0, 1.0]), None);
        assert!(strand_seen(&form, &[], &view, [50.0, 30.0]).is_some());
    }
}
