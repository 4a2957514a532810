//! Pictures of cords, painted beside the window.
//!
//! One named thread. The newest order for a lane of the strip wins: it is painted
//! coarse at once and fine when the maker's hand has rested. Small pictures, for
//! shelves and lists, are painted when the strip is done. Finished pictures are
//! kept as textures, so that a frame without change paints nothing.

mod wall;

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use eframe::egui::{ColorImage, Context, TextureHandle, TextureOptions};

use crate::drawing::{Detail, Float, Stage, floats};

use super::order::{Age, Lane, Order, Sitter};
use super::painting::{Scene, painted};
use super::post::Post;

use wall::{Job, Wall, WallHand, Wishes, wall};
pub(super) use wall::{Looking, Subject};

/// How long a hand must rest before the fine picture is begun. Tried: shorter
/// begins it between two notches of a wheel.
const REST: Duration = Duration::from_millis(140);

/// A finished picture of the strip.
pub struct Shown {
    /// What is seen in it.
    pub scene: Scene,
    /// Where its strands lie on top, in its pixels; empty unless asked for.
    pub floats: Vec<Float>,
    /// How it looks.
    pub texture: TextureHandle,
}

impl std::fmt::Debug for Shown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Shown")
            .field("scene", &self.scene)
            .field("texture", &self.texture.id())
            .finish()
    }
}

/// A finished small picture.
struct Small {
    order: Order,
    texture: Option<TextureHandle>,
}

#[derive(Debug, Default)]
struct Board {
    strip: [Option<Order>; 3],
    small: BTreeMap<String, Order>,
    wishes: Wishes,
    closed: bool,
}

#[derive(Debug)]
enum Finished {
    Strip(Lane, Scene, Vec<Float>, ColorImage),
    Small(String, ColorImage),
}

/// The window's side: orders go out, textures come home.
pub struct Easel {
    post: Arc<Post<Board>>,
    finished: Receiver<Finished>,
    ordered: [Option<Order>; 3],
    shown: [Option<Shown>; 3],
    small: BTreeMap<String, Small>,
    wall: Wall,
}

impl std::fmt::Debug for Easel {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Easel")
            .field("ordered", &self.ordered)
            .finish_non_exhaustive()
    }
}

impl Easel {
    /// An easel that asks `ctx` for a new frame whenever a picture is done.
    pub fn new(ctx: &Context) -> Self {
        let post = Arc::new(Post::default());
        let (send, finished) = channel();
        let (wall, wall_hand) = wall();
        let hand = Hand {
            post: Arc::clone(&post),
            send,
            ctx: ctx.clone(),
            places: Default::default(),
            is_moved: false,
            wall: wall_hand,
        };
        let thread = std::thread::Builder::new().name("easel".to_owned());
        if let Err(error) = thread.spawn(move || hand.work()) {
            log::error!("no thread for the pictures: {error}");
        }
        Self {
            post,
            finished,
            ordered: Default::default(),
            shown: Default::default(),
            small: BTreeMap::new(),
            wall,
        }
    }

    /// Hangs up what was painted since the last frame.
    pub fn collect(&mut self, ctx: &Context) {
        self.wall.collect(ctx);
        while let Ok(finished) = self.finished.try_recv() {
            match finished {
                Finished::Strip(lane, scene, floats, image) => {
                    let texture = hang(ctx, "strip", image);
                    self.shown[lane as usize] = Some(Shown {
                        scene,
                        floats,
                        texture,
                    });
                }
                Finished::Small(key, image) => {
                    if let Some(small) = self.small.get_mut(&key) {
                        small.texture = Some(hang(ctx, &key, image));
                    }
                }
            }
        }
    }

    /// Orders a lane of the strip, unless it is ordered already.
    pub fn order(&mut self, lane: Lane, order: Order) {
        let ordered = &mut self.ordered[lane as usize];
        if ordered.as_ref() == Some(&order) {
            return;
        }
        let same_shape = ordered.as_ref().is_some_and(|o| o.is_shaped_like(&order));
        *ordered = Some(order.clone());
        if same_shape {
            // Only its figures grew finer; there is nothing new to see.
            return;
        }
        self.post.board().strip[lane as usize] = Some(order);
        self.post.ring();
    }

    /// The newest picture of a lane.
    pub fn shown(&self, lane: Lane) -> Option<&Shown> {
        self.shown[lane as usize].as_ref()
    }

    /// The wall of many small pictures of one cord; those asked for on it are painted
    /// before other small ones.
    pub(super) fn wall(&mut self, subject: Subject) -> Looking<'_> {
        self.wall.turn_to(subject);
        Looking::at(&mut self.wall, &self.post)
    }

    /// A small picture under `key`, once it is painted; the last one under
    /// that key until then.
    pub fn small(&mut self, key: &str, order: Order) -> Option<&TextureHandle> {
        let is_known = self.small.get(key).is_some_and(|s| s.order == order);
        if !is_known {
            let before = self.small.remove(key).and_then(|small| small.texture);
            let (order, texture) = (order, before);
            self.post
                .board()
                .small
                .insert(key.to_owned(), order.clone());
            self.post.ring();
            self.small.insert(key.to_owned(), Small { order, texture });
        }
        self.small.get(key).and_then(|small| small.texture.as_ref())
    }
}

impl Drop for Easel {
    fn drop(&mut self) {
        self.post.board().closed = true;
        self.post.ring();
    }
}

fn hang(ctx: &Context, name: &str, image: ColorImage) -> TextureHandle {
    ctx.load_texture(name, image, TextureOptions::LINEAR)
}

/// The thread's side.
struct Hand {
    post: Arc<Post<Board>>,
    send: Sender<Finished>,
    ctx: Context,
    places: [Place; 3],
    /// Whether the last picture of a lane was one of a moving cord.
    is_moved: bool,
    wall: WallHand,
}

/// What is kept for a lane.
#[derive(Default)]
struct Place {
    /// The cord, made ready, and who it is.
    stage: Option<(Sitter, Stage)>,
    /// The last fine picture, so that a cord that only grows old is not painted
    /// again.
    last: Option<(Order, ColorImage)>,
    /// What has so far been painted quickly.
    unfinished: Option<Order>,
}

/// What to paint next.
enum Next {
    /// A new order.
    Strip(Lane, Order),
    /// The fine picture of an order that was painted quickly.
    Finish(Lane, Order),
    Look(Job),
    Small(String, Order),
    Nothing,
}

impl Board {
    fn has_strip(&self) -> bool {
        self.strip.iter().any(Option::is_some)
    }

    fn take_strip(&mut self) -> Option<(Lane, Order)> {
        let mut lanes = Lane::ALL.into_iter();
        lanes.find_map(|lane| Some((lane, self.strip[lane as usize].take()?)))
    }
}

impl Hand {
    fn work(mut self) {
        loop {
            match self.next() {
                Next::Strip(lane, order) => self.strip(lane, order),
                Next::Finish(lane, order) => self.finish(lane, &order),
                Next::Look(job) => self.wall.paint(job, &self.post, &self.ctx),
                Next::Small(key, order) => {
                    let mut stage = Stage::new(&order.sitter);
                    let image = painted(&mut stage, &order, Detail::Fine);
                    self.say(Finished::Small(key, image));
                }
                Next::Nothing => return,
            }
        }
    }

    fn next(&mut self) -> Next {
        let post = Arc::clone(&self.post);
        let mut board = post.board();
        loop {
            if board.closed {
                return Next::Nothing;
            }
            if let Some((lane, order)) = board.take_strip() {
                return Next::Strip(lane, order);
            }
            if self.is_moved {
                // The hand has to rest first.
                self.is_moved = false;
                let waits = |board: &mut Board| !board.has_strip() && !board.closed;
                board = post.wait_while(board, REST, waits);
                continue;
            }
            if let Some((lane, order)) = self.unfinished() {
                return Next::Finish(lane, order);
            }
            if let Some(job) = board.wishes.next() {
                return Next::Look(job);
            }
            if let Some((key, order)) = board.small.pop_first() {
                return Next::Small(key, order);
            }
            board = post.wait(board);
        }
    }

    fn unfinished(&mut self) -> Option<(Lane, Order)> {
        let mut lanes = Lane::ALL.into_iter();
        lanes.find_map(|lane| Some((lane, self.places[lane as usize].unfinished.take()?)))
    }

    fn strip(&mut self, lane: Lane, order: Order) {
        self.places[lane as usize].unfinished = None;
        if let Some(image) = self.places[lane as usize].aged(&order) {
            return self.hand_over(lane, &order, image);
        }
        let Some(quick) = self.places[lane as usize].quick(&order) else {
            return self.finish(lane, &order);
        };
        let image = self.places[lane as usize].paint(&order, quick);
        self.hand_over(lane, &order, image);
        self.is_moved |= quick == Detail::Moving;
        self.places[lane as usize].unfinished = Some(order);
    }

    fn finish(&mut self, lane: Lane, order: &Order) {
        let place = &mut self.places[lane as usize];
        let fine = place.paint(order, Detail::Fine);
        place.last = Some((order.clone(), fine.clone()));
        self.hand_over(lane, order, fine);
    }

    /// A picture of the strip, with the floats of its cord if they are wanted.
    fn hand_over(&self, lane: Lane, order: &Order, image: ColorImage) {
        let floats = if order.traced {
            floats(&order.sitter, &order.scene.view)
        } else {
            Vec::new()
        };
        self.say(Finished::Strip(lane, order.scene, floats, image));
    }

    fn say(&self, finished: Finished) {
        if self.send.send(finished).is_ok() {
            self.ctx.request_repaint();
        }
    }
}

impl Place {
    /// What is painted before the fine picture: a moving one while the maker
    /// moves the cord, a coarse one when there is none yet. Another cord or
    /// other colours come at once in full, or the strip would flicker.
    fn quick(&self, order: &Order) -> Option<Detail> {
        let Some((last, _)) = &self.last else {
            return Some(Detail::Coarse);
        };
        let moves = last.sitter.is(&order.sitter) && last.scene != order.scene;
        moves.then_some(Detail::Moving)
    }

    /// On the stage of the last picture, if it is the same cord.
    fn paint(&mut self, order: &Order, detail: Detail) -> ColorImage {
        let mut stage = match self.stage.take() {
            Some((sitter, stage)) if sitter.is(&order.sitter) => stage,
            Some((_, mut stage)) => {
                stage.show(&order.sitter);
                stage
            }
            None => Stage::new(&order.sitter),
        };
        let image = painted(&mut stage, order, detail);
        self.stage = Some((order.sitter.clone(), stage));
        image
    }

    /// The last fine picture, if only its age differs.
    fn aged(&self, order: &Order) -> Option<ColorImage> {
        let (last, image) = self.last.as_ref()?;
        let same = Order {
            age: last.age,
            traced: last.traced,
            ..order.clone()
        };
        if same != *last || last.age == Age::Old {
            return None;
        }
        Some(match order.age {
            Age::Now => image.clone(),
            Age::Old => faded(image.clone()),
        })
    }
}

/// Share of the colour that an old cord keeps.
const OLD_COLOUR: f32 = 0.55;

/// The picture with little colour, as an old cord is shown.
pub(super) fn faded(mut image: ColorImage) -> ColorImage {
    for pixel in &mut image.pixels {
        let [r, g, b, a] = pixel.to_array();
        // Luma of ITU-R BT.709.
        let grey = 0.2126 * f32::from(r) + 0.7152 * f32::from(g) + 0.0722 * f32::from(b);
        let mix = |c: u8| (grey + OLD_COLOUR * (f32::from(c) - grey)).round() as u8;
        *pixel = eframe::egui::Color32::from_rgba_premultiplied(mix(r), mix(g), mix(b), a);
    }
    image
}

#[cfg(test)]
mod tests {
    use eframe::egui::Color32;

    use super::*;

    #[test]
    fn an_old_cord_keeps_its_light_and_half_its_colour() {
        let image = ColorImage::filled([1, 1], Color32::from_rgb(200, 40, 40));
        let [r, g, b, _] = faded(image).pixels[0].to_array();
        assert!(r < 200 && g > 40 && b > 40, "less colour: {r} {g} {b}");
        let spread = f32::from(r) - f32::from(g);
        assert!(
            (spread - 88.0).abs() < 2.0,
            "55 % of 160 is 88, not {spread}"
        );
    }
}
