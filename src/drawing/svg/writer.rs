//! The elements of an SVG, written one after the other.
//!
//! Knows no cord and no disc. Texts and values are escaped here, so that a
//! name with `<` or `&` in it harms nothing.

use std::fmt::Write;

/// An SVG being written.
#[derive(Debug, Clone)]
pub struct Svg {
    text: String,
    open: Vec<&'static str>,
    /// Places behind the point that figures are written with.
    places: usize,
}

impl Svg {
    /// An empty picture of this size in millimetres, whose own unit is a millimetre and
    /// whose origin is the upper left corner; the title is what readers say.
    pub fn new(title: &str, [width, height]: [f64; 2]) -> Self {
        let mut svg = Self {
            text: String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"),
            open: Vec::new(),
            places: 3,
        };
        let (wide, high) = (svg.number(width), svg.number(height));
        svg.begin(
            "svg",
            &[
                ("xmlns", "http://www.w3.org/2000/svg"),
                ("width", &format!("{wide}mm")),
                ("height", &format!("{high}mm")),
                ("viewBox", &format!("0 0 {wide} {high}")),
                ("role", "img"),
            ],
        );
        svg.words("title", &[], title);
        svg
    }

    /// A figure as it is written: to a thousandth, without idle noughts.
    pub fn number(&self, value: f64) -> String {
        short(value, self.places)
    }

    /// Opens an element that holds others.
    pub fn begin(&mut self, name: &'static str, attributes: &[(&str, &str)]) {
        self.tag(name, attributes);
        self.text.push_str(">\n");
        self.open.push(name);
    }

    /// Closes the element opened last.
    pub fn end(&mut self) {
        if let Some(name) = self.open.pop() {
            self.close(name);
        }
    }

    /// An element that holds nothing.
    pub fn mark(&mut self, name: &str, attributes: &[(&str, &str)]) {
        self.tag(name, attributes);
        self.text.push_str("/>\n");
    }

    /// An element that holds words.
    pub fn words(&mut self, name: &str, attributes: &[(&str, &str)], words: &str) {
        self.tag(name, attributes);
        self.text.push('>');
        escape(&mut self.text, words);
        self.close(name);
    }

    /// The whole text, with everything that is still open closed.
    pub fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.end();
        }
        self.text
    }

    fn tag(&mut self, name: &str, attributes: &[(&str, &str)]) {
        self.text.push('<');
        self.text.push_str(name);
        for (key, value) in attributes {
            self.text.push(' ');
            self.text.push_str(key);
            self.text.push_str("=\"");
            escape(&mut self.text, value);
            self.text.push('"');
        }
    }

    fn close(&mut self, name: &str) {
        self.text.push_str("</");
        self.text.push_str(name);
        self.text.push_str(">\n");
    }
}

/// What stands in `d` of a path along these points, to a hundredth; a closed one ends
/// where it begins. Nothing of no points.
pub fn outline(points: &[[f64; 2]], closed: bool) -> String {
    let mut path = String::new();
    let hundredths = |v: f64| (v * 100.0).round();
    let mut last = [0.0; 2];
    for (i, point) in points.iter().enumerate() {
        let here = point.map(hundredths);
        // Steps from the last point are shorter to write than places.
        let step = [here[0] - last[0], here[1] - last[1]];
        if i > 1 && step == [0.0; 2] {
            continue;
        }
        path.push_str(match i {
            0 => "M",
            1 => "l",
            _ => " ",
        });
        let [x, y] = step.map(|v| short(v / 100.0, 2));
        let gap = if y.starts_with('-') { "" } else { " " };
        let _ = write!(path, "{x}{gap}{y}");
        last = here;
    }
    if closed && !path.is_empty() {
        path.push('z');
    }
    path
}

/// Written to so many places, without idle noughts; what is no number is nought.
fn short(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let mut text = format!("{value:.places$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" {
        text.remove(0);
    }
    text
}

/// Adds a text in which nothing is taken for an element. Marks that XML 1.0 cannot hold
/// are left out.
fn escape(to: &mut String, text: &str) {
    for letter in text.chars() {
        match letter {
            '&' => to.push_str("&amp;"),
            '<' => to.push_str("&lt;"),
            '>' => to.push_str("&gt;"),
            '"' => to.push_str("&quot;"),
            '\t' | '\n' | '\r' => to.push(' '),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            other => to.push(other),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_with_signs_of_their_own_harm_nothing() {
        let mut svg = Svg::new("<Ring> & \"co\"", [10.0, 2.5]);
        svg.words("text", &[("id", "a\"b\u{1}")], "1 < 2");
        let text = svg.finish();
        assert!(text.contains("<title>&lt;Ring&gt; &amp; &quot;co&quot;</title>"));
        assert!(
            text.contains("<text id=\"a&quot;b\">1 &lt; 2</text>"),
            "{text}"
        );
    }

    #[test]
    fn everything_opened_is_closed_in_turn() {
        let mut svg = Svg::new("a", [1.0, 1.0]);
        svg.begin("g", &[]);
        svg.begin("g", &[("fill", "none")]);
        svg.mark("path", &[("d", "M0 0")]);
        svg.end();
        let text = svg.finish();
        assert!(text.ends_with("</g>\n</g>\n</svg>\n"), "{text}");
        assert!(text.contains("width=\"1mm\""), "{text}");
    }

    #[test]
    fn figures_are_written_short() {
        for (value, written) in [
            (1.0, "1"),
            (-0.0001, "0"),
            (0.126, "0.126"),
            (120.0, "120"),
            (f64::NAN, "0"),
        ] {
            assert_eq!(short(value, 3), written);
        }
    }

    #[test]
    fn an_outline_adds_up_to_its_points_whatever_was_rounded() {
        let points: Vec<[f64; 2]> = (0..40)
            .map(|i| [f64::from(i) * 0.3333, -f64::from(i) * 0.0777])
            .collect();
        let path = outline(&points, false);
        let numbers = path.replace(['M', 'l'], " ").replace('-', " -");
        let numbers: Vec<f64> = numbers
            .split_whitespace()
            .map(|n| n.parse().unwrap())
            .collect();
        let sum = |from: usize| numbers.iter().skip(from).step_by(2).sum::<f64>();
        assert!((sum(0) - points[39][0]).abs() < 0.006, "{}", sum(0));
        assert!((sum(1) - points[39][1]).abs() < 0.006, "{}", sum(1));
        assert!(outline(&points[..3], true).ends_with('z'));
        assert_eq!(outline(&[], true), "");
    }
}
