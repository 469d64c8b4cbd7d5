//! The icon of the window, drawn here: a rail seen from its end, above a rack.

use egui::IconData;

const PIXELS: u32 = 64;
const GROUND: [u8; 4] = [0x00, 0x5A, 0x8F, 0xFF];
const RAIL: [u8; 4] = [0xFF, 0xFF, 0xFF, 0xFF];
const RACK: [u8; 4] = [0xF0, 0xB7, 0x3A, 0xFF];

/// The icon.
pub(super) fn icon() -> IconData {
    let pixels = (0..PIXELS).flat_map(|y| (0..PIXELS).map(move |x| pixel(x, y)));
    IconData { rgba: pixels.flatten().collect(), width: PIXELS, height: PIXELS }
}

/// The colour at a place, counted from the upper left.
fn pixel(x: u32, y: u32) -> [u8; 4] {
    // Half the width of the rail at this height: head, a slope, web, a slope, foot.
    let half = match y {
        10..=19 => 11,
        20..=22 => 11 - 3 * (y - 19) + 1,
        23..=38 => 3,
        39..=43 => 3 + 3 * (y - 38),
        44..=47 => 19,
        _ => 0,
    };
    let away = PIXELS / 2 - 1 - x.min(PIXELS - 1 - x);
    match y {
        51..=56 if (6..58).contains(&x) => RACK,
        _ if away < half => RAIL,
        _ => GROUND,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_icon_is_as_large_as_it_says_and_shows_a_rail_on_a_rack() {
        let icon = icon();
        assert_eq!(icon.rgba.len() as u32, icon.width * icon.height * 4);
        assert_eq!(pixel(32, 30), RAIL);
        assert_eq!(pixel(10, 30), GROUND);
        assert_eq!(pixel(32, 53), RACK);
        assert!((0..PIXELS).all(|y| (0..PIXELS).all(|x| pixel(x, y) == pixel(PIXELS - 1 - x, y))));
    }
}
