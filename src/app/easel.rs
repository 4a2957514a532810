//! Pictures of cords, painted beside the window.
//!
//! One named thread. The newest order for the strip wins: it is painted coarse
//! at once and fine when the maker's hand has rested. Small pictures, for
//! shelves and lists, are painted when the strip is done. Finished pictures are
//! kept as textures, so that a frame without change paints nothing.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use eframe::egui::{ColorImage, Context, TextureHandle, TextureOptions};

use crate::cord::Cord;
use crate::drawing::{Detail, Float, Stage, Thread, floats};

use super::painting::{Scene, painted};
use super::post::Post;

/// How long a hand must rest before the fine picture is begun. Tried: shorter
/// begins it between two notches of a wheel.
const REST: Duration = Duration::from_millis(140);

/// Whether the cord is the one asked for, or the last good one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Age {
    /// The cord of the design.
    Now,
    /// An earlier cord, shown with little colour.
    Old,
}

/// One picture to be painted.
#[derive(Debug, Clone)]
pub struct Order {
    /// The cord.
    pub cord: Arc<Cord>,
    /// What its strands look like.
    pub threads: Arc<[Thread]>,
    /// What of it is seen, and how large.
    pub scene: Scene,
    /// How it is shown.
    pub age: Age,
    /// Whether it is to be known where its strands lie on top.
    pub traced: bool,
}

impl PartialEq for Order {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.cord, &other.cord)
            && self.threads == other.threads
            && self.scene == other.scene
            && self.age == other.age
            && self.traced == other.traced
    }
}

impl Order {
    /// Whether the two pictures would be the same, pixel for pixel.
    fn is_shaped_like(&self, other: &Self) -> bool {
        self.cord.form == other.cord.form
            && self.threads == other.threads
            && self.scene == other.scene
            && self.age == other.age
            && self.traced == other.traced
    }
}

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
    strip: Option<Order>,
    small: BTreeMap<String, Order>,
    closed: bool,
}

#[derive(Debug)]
enum Finished {
    Strip(Scene, Vec<Float>, ColorImage),
    Small(String, ColorImage),
}

/// The window's side: orders go out, textures come home.
pub struct Easel {
    post: Arc<Post<Board>>,
    finished: Receiver<Finished>,
    ordered: Option<Order>,
    shown: Option<Shown>,
    small: BTreeMap<String, Small>,
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
        let hand = Hand {
            post: Arc::clone(&post),
            send,
            ctx: ctx.clone(),
            stage: None,
            last: None,
        };
        let thread = std::thread::Builder::new().name("easel".to_owned());
        if let Err(error) = thread.spawn(move || hand.work()) {
            log::error!("no thread for the pictures: {error}");
        }
        Self {
            post,
            finished,
            ordered: None,
            shown: None,
            small: BTreeMap::new(),
        }
    }

    /// Hangs up what was painted since the last frame.
    pub fn collect(&mut self, ctx: &Context) {
        while let Ok(finished) = self.finished.try_recv() {
            match finished {
                Finished::Strip(scene, floats, image) => {
                    let texture = hang(ctx, "strip", image);
                    self.shown = Some(Shown {
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

    /// Orders the strip, unless it is ordered already.
    pub fn order(&mut self, order: Order) {
        if self.ordered.as_ref() == Some(&order) {
            return;
        }
        let same_shape = self
            .ordered
            .as_ref()
            .is_some_and(|o| o.is_shaped_like(&order));
        if same_shape {
            // Only its figures grew finer; there is nothing new to see.
            self.ordered = Some(order);
            return;
        }
        self.ordered = Some(order.clone());
        self.post.board().strip = Some(order);
        self.post.ring();
    }

    /// The newest picture of the strip.
    pub fn shown(&self) -> Option<&Shown> {
        self.shown.as_ref()
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
    /// The cord of the strip, made ready, and whose it is.
    stage: Option<(Arc<Cord>, Stage)>,
    /// The last fine picture, so that a cord that only grows old is not painted
    /// again.
    last: Option<(Order, ColorImage)>,
}

/// What to paint next.
enum Next {
    Strip(Order),
    Small(String, Order),
    Nothing,
}

impl Hand {
    fn work(mut self) {
        loop {
            match self.next() {
                Next::Strip(order) => self.strip(&order),
                Next::Small(key, order) => {
                    let mut stage = Stage::new(&order.cord.form);
                    let image = painted(&mut stage, &order, Detail::Fine);
                    self.say(Finished::Small(key, image));
                }
                Next::Nothing => return,
            }
        }
    }

    fn next(&self) -> Next {
        let mut board = self.post.board();
        loop {
            if board.closed {
                return Next::Nothing;
            }
            if let Some(order) = board.strip.take() {
                return Next::Strip(order);
            }
            if let Some((key, order)) = board.small.pop_first() {
                return Next::Small(key, order);
            }
            board = self.post.wait(board);
        }
    }

    fn strip(&mut self, order: &Order) {
        if let Some(image) = self.aged(order) {
            return self.hand_over(order, image);
        }
        if let Some(quick) = self.quick(order) {
            let image = self.paint(order, quick);
            self.hand_over(order, image);
            if quick == Detail::Moving && self.is_overtaken() {
                return;
            }
        }
        let fine = self.paint(order, Detail::Fine);
        self.last = Some((order.clone(), fine.clone()));
        self.hand_over(order, fine);
    }

    /// A picture of the strip, with the floats of its cord if they are wanted.
    fn hand_over(&self, order: &Order, image: ColorImage) {
        let floats = if order.traced {
            floats(&order.cord.form, &order.scene.view)
        } else {
            Vec::new()
        };
        self.say(Finished::Strip(order.scene, floats, image));
    }

    /// What is painted before the fine picture: a moving one while the maker
    /// moves the cord, a coarse one when there is none yet. Another cord or
    /// other colours come at once in full, or the strip would flicker.
    fn quick(&self, order: &Order) -> Option<Detail> {
        let Some((last, _)) = &self.last else {
            return Some(Detail::Coarse);
        };
        let moves = Arc::ptr_eq(&last.cord, &order.cord) && last.scene != order.scene;
        moves.then_some(Detail::Moving)
    }

    /// On the stage of the last picture, if it is the same cord.
    fn paint(&mut self, order: &Order, detail: Detail) -> ColorImage {
        let kept = self.stage.take();
        let mut stage = match kept {
            Some((cord, stage)) if Arc::ptr_eq(&cord, &order.cord) => stage,
            Some((_, mut stage)) => {
                stage.show(&order.cord.form);
                stage
            }
            None => Stage::new(&order.cord.form),
        };
        let image = painted(&mut stage, order, detail);
        self.stage = Some((Arc::clone(&order.cord), stage));
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

    /// Waits for the hand to rest; whether another order came meanwhile.
    fn is_overtaken(&self) -> bool {
        let board = self.post.board();
        let waits = |board: &mut Board| board.strip.is_none() && !board.closed;
        let board = self.post.wait_while(board, REST, waits);
        board.strip.is_some() || board.closed
    }

    fn say(&self, finished: Finished) {
        if self.send.send(finished).is_ok() {
            self.ctx.request_repaint();
        }
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
