//! Plain names of thread colours.

use super::Colour;

/// Thread colours to begin with, with plain names, light to dark within a hue.
pub const NAMED: [(&str, Colour); 29] = [
    ("white", Colour([0xf4, 0xf1, 0xea])),
    ("cream", Colour([0xea, 0xdb, 0xb8])),
    ("silver grey", Colour([0xb4, 0xb8, 0xbc])),
    ("slate", Colour([0x66, 0x6e, 0x78])),
    ("black", Colour([0x1e, 0x1c, 0x1d])),
    ("sand", Colour([0xc4, 0xa8, 0x7c])),
    ("chestnut", Colour([0x8a, 0x52, 0x30])),
    ("dark brown", Colour([0x4a, 0x30, 0x22])),
    ("straw", Colour([0xe6, 0xcb, 0x5a])),
    ("gold", Colour([0xc9, 0x98, 0x22])),
    ("orange", Colour([0xdf, 0x77, 0x2c])),
    ("rust", Colour([0xa8, 0x4a, 0x26])),
    ("salmon", Colour([0xe8, 0x96, 0x80])),
    ("red", Colour([0xc2, 0x2f, 0x2b])),
    ("wine", Colour([0x6d, 0x22, 0x30])),
    ("pink", Colour([0xdc, 0x8f, 0xae])),
    ("plum", Colour([0x7c, 0x3f, 0x6e])),
    ("lavender", Colour([0xa7, 0x98, 0xcc])),
    ("violet", Colour([0x55, 0x3c, 0x8e])),
    ("sky blue", Colour([0x7f, 0xb2, 0xd6])),
    ("blue", Colour([0x2c, 0x66, 0xa8])),
    ("navy", Colour([0x1f, 0x2e, 0x54])),
    ("pale green", Colour([0xae, 0xd8, 0xc4])),
    ("sea green", Colour([0x6f, 0xa8, 0x9e])),
    ("teal", Colour([0x1f, 0x7c, 0x7c])),
    ("leaf green", Colour([0x4f, 0x9e, 0x55])),
    ("moss green", Colour([0x7a, 0x85, 0x3a])),
    ("olive", Colour([0x52, 0x5c, 0x38])),
    ("bottle green", Colour([0x1f, 0x4c, 0x38])),
];

impl Colour {
    /// The plain name of the nearest colour of the [`NAMED`].
    pub fn name(self) -> &'static str {
        let apart = |named: &&(&str, Self)| self.difference(named.1);
        let nearest = NAMED.iter().min_by(|a, b| apart(a).total_cmp(&apart(b)));
        nearest.map_or("", |named| named.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn named_colours_can_be_told_apart_and_name_themselves() {
        for (i, (name, one)) in NAMED.iter().enumerate() {
            assert_eq!(one.name(), *name);
            for (other_name, other) in &NAMED[i + 1..] {
                assert_ne!(name, other_name);
                let apart = one.difference(*other);
                assert!(apart > 7.5, "{name} and {other_name}: {apart}");
            }
        }
        assert_eq!(Colour([0xc0, 0x30, 0x28]).name(), "red");
        assert_eq!(Colour::BLACK.name(), "black");
    }
}
