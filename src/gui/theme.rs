//! The colours by role, light and dark.
//!
//! Hues follow the palette of Okabe and Ito, which colour-blind eyes can tell apart; each is darkened or
//! lightened until text in it reads on its ground. Nothing is told by colour alone.

use crate::report::sheet::Face;
use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke, TextStyle, Ui,
    Visuals, vec2,
};

use std::sync::Arc;

/// What a colour is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Ground of the drawn views.
    Canvas,
    /// Ground of panels.
    Panel,
    /// Ground of every second row, and of bars.
    Faint,
    /// Words and digits.
    Text,
    /// Words of less weight.
    WeakText,
    /// Thin lines that part things.
    Line,
    /// The accent: what can be acted on.
    Accent,
    /// Ground of what is selected.
    Selected,
    /// Edge of what is selected, in the drawn views.
    SelectedEdge,
    /// Fails.
    Fail,
    /// Undecided.
    Undecided,
    /// Near.
    Near,
    /// Notes.
    Note,
    /// Passes.
    Pass,
    /// Not applicable, not asked.
    Off,
    /// A string.
    String,
    /// A string of the second section of the plan, and of every further one.
    OtherString,
    /// Vehicle bodies.
    Vehicle,
    /// Wheels and bogies.
    Gear,
    /// Racks.
    Rack,
    /// Holds.
    Hold,
    /// What is dragged, where it would go.
    Ghost,
    /// Where it was.
    Origin,
}

/// A set of colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Theme {
    /// Whether it is the dark one.
    pub dark: bool,
}

impl Theme {
    /// Dark words on light ground.
    pub const LIGHT: Self = Self { dark: false };
    /// Light words on dark ground.
    pub const DARK: Self = Self { dark: true };

    /// The one that `ui` is drawn in.
    pub fn of(ui: &Ui) -> Self {
        if ui.visuals().dark_mode { Self::DARK } else { Self::LIGHT }
    }

    /// Gives the context fonts and both sets of colours; what is drawn in the same frame does not have them yet.
    pub fn install(ctx: &egui::Context) {
        let mut fonts = FontDefinitions::default();
        // Arrows, triangles and circles stand only in the fixed-width font.
        fonts.families.entry(FontFamily::Proportional).or_default().push("Hack".to_owned());
        for face in Face::ALL {
            let name = sheet_face_name(face);
            fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(face.bytes())));
            fonts.families.insert(FontFamily::Name(name.into()), vec![name.to_owned()]);
        }
        ctx.set_fonts(fonts);
        // A field is left before what was pressed takes it away, so that what was typed there counts.
        ctx.options_mut(|options| {
            options.input_options.surrender_focus_on = egui::SurrenderFocusOn::Presses;
        });
        for (kind, theme) in [(egui::Theme::Light, Self::LIGHT), (egui::Theme::Dark, Self::DARK)] {
            let mut style = (*ctx.style_of(kind)).clone();
            style.visuals = theme.visuals();
            style.text_styles = text_styles();
            style.spacing.item_spacing = vec2(6.0, 4.0);
            style.spacing.button_padding = vec2(6.0, 2.0);
            style.spacing.menu_margin = Margin::same(6);
            style.spacing.interact_size.y = 20.0;
            style.spacing.combo_height = 400.0;
            style.interaction.selectable_labels = false;
            ctx.set_style_of(kind, style);
        }
    }

    /// The colour of `role`.
    pub const fn color(&self, role: Role) -> Color32 {
        let (light, dark) = match role {
            Role::Canvas => (0xFF_FF_FF, 0x16_19_1D),
            Role::Panel => (0xF5_F6_F7, 0x1F_23_28),
            Role::Faint => (0xEA_EC_EF, 0x2A_2F_36),
            Role::Text => (0x1B_1F_24, 0xE8_EA_ED),
            Role::WeakText => (0x55_5D_66, 0xA6_AE_B8),
            Role::Line => (0xC9_CE_D4, 0x3B_42_4B),
            Role::Accent => (0x00_5A_8F, 0x6C_BE_EE),
            Role::Selected => (0xCF_E6_F5, 0x18_3C_54),
            Role::SelectedEdge => (0x00_5A_8F, 0x9A_D4_F5),
            Role::Fail => (0xA8_3E_00, 0xFF_8F_4D),
            Role::Undecided => (0x8A_3F_70, 0xE3_9B_C8),
            Role::Near => (0x7A_56_00, 0xF0_B7_3A),
            Role::Note => (0x00_5A_8F, 0x6C_BE_EE),
            Role::Pass => (0x00_6B_4F, 0x35_C2_98),
            Role::Off => (0x5E_66_70, 0x9A_A3_AD),
            Role::String => (0x3D_6E_8F, 0x6F_A3_C4),
            Role::OtherString => (0x9A_6A_1F, 0xD0_A2_5A),
            Role::Vehicle => (0x8B_93_9C, 0x65_6F_7B),
            Role::Gear => (0x6B_74_7E, 0x8A_94_A0),
            Role::Rack => (0x4A_52_5B, 0xA9_B2_BC),
            Role::Hold => (0x8A_3F_70, 0xE3_9B_C8),
            Role::Ghost => (0x00_6B_4F, 0x35_C2_98),
            Role::Origin => (0x7F_88_91, 0x6A_74_80),
        };
        let rgb: u32 = if self.dark { dark } else { light };
        Color32::from_rgb((rgb >> 16) as u8, (rgb >> 8) as u8, rgb as u8)
    }

    fn visuals(&self) -> Visuals {
        let mut visuals = if self.dark { Visuals::dark() } else { Visuals::light() };
        let line = Stroke::new(1.0, self.color(Role::Line));
        visuals.panel_fill = self.color(Role::Panel);
        visuals.window_fill = self.color(Role::Panel);
        visuals.window_stroke = line;
        visuals.extreme_bg_color = self.color(Role::Canvas);
        visuals.faint_bg_color = self.color(Role::Faint);
        visuals.weak_text_color = Some(self.color(Role::WeakText));
        visuals.hyperlink_color = self.color(Role::Accent);
        visuals.warn_fg_color = self.color(Role::Near);
        visuals.error_fg_color = self.color(Role::Fail);
        visuals.selection.bg_fill = self.color(Role::Selected);
        visuals.selection.stroke = Stroke::new(1.0, self.color(Role::Text));
        visuals.window_corner_radius = CornerRadius::same(4);
        visuals.menu_corner_radius = CornerRadius::same(4);
        let widgets = &mut visuals.widgets;
        let text = self.color(Role::Text);
        widgets.noninteractive.bg_stroke = line;
        widgets.noninteractive.fg_stroke = Stroke::new(1.0, text);
        widgets.inactive.bg_stroke = line;
        widgets.inactive.weak_bg_fill = self.color(Role::Canvas);
        widgets.inactive.bg_fill = self.color(Role::Faint);
        for state in [&mut widgets.hovered, &mut widgets.active, &mut widgets.open] {
            state.weak_bg_fill = self.color(Role::Faint);
            state.bg_fill = self.color(Role::Faint);
            state.bg_stroke = Stroke::new(1.0, self.color(Role::Accent));
        }
        widgets.active.weak_bg_fill = self.color(Role::Selected);
        for state in [&mut widgets.inactive, &mut widgets.hovered, &mut widgets.active, &mut widgets.open] {
            state.fg_stroke = Stroke::new(1.0, text);
            state.corner_radius = CornerRadius::same(3);
            state.expansion = 0.0;
        }
        visuals
    }
}

/// The family that paints a face of the printed sheets.
pub(super) fn sheet_family(face: Face) -> FontFamily {
    FontFamily::Name(sheet_face_name(face).into())
}

fn sheet_face_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "sheet",
        Face::Bold => "sheet bold",
    }
}

fn text_styles() -> std::collections::BTreeMap<TextStyle, FontId> {
    [
        (TextStyle::Small, FontId::proportional(11.0)),
        (TextStyle::Body, FontId::proportional(13.0)),
        (TextStyle::Button, FontId::proportional(13.0)),
        (TextStyle::Heading, FontId::proportional(17.0)),
        (TextStyle::Monospace, FontId::monospace(12.0)),
    ]
    .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrast of two colours by WCAG 2.2, success criterion 1.4.3: (L1 + 0.05) / (L2 + 0.05).
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |color: Color32| {
            let linear = |channel: u8| {
                let share = f64::from(channel) / 255.0;
                if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * linear(color.r()) + 0.7152 * linear(color.g()) + 0.0722 * linear(color.b())
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn black_on_white_has_the_contrast_that_the_definition_gives() {
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1.0e-9);
    }

    #[test]
    fn words_of_every_kind_stand_out_from_every_ground_by_four_and_a_half() {
        let words = [
            Role::Text,
            Role::WeakText,
            Role::Accent,
            Role::Fail,
            Role::Undecided,
            Role::Near,
            Role::Note,
            Role::Pass,
            Role::Off,
        ];
        for theme in [Theme::LIGHT, Theme::DARK] {
            for ground in [Role::Canvas, Role::Panel, Role::Faint, Role::Selected] {
                for word in words {
                    let found = contrast(theme.color(word), theme.color(ground));
                    assert!(found >= 4.5, "{theme:?} {word:?} on {ground:?}: {found:.2}");
                }
            }
        }
    }

    // WCAG 2.2, success criterion 1.4.11: what is needed to understand a picture stands out by 3 : 1.
    #[test]
    fn marks_of_every_kind_stand_out_from_the_drawn_ground_by_three() {
        let marks = [
            Role::String,
            Role::OtherString,
            Role::Vehicle,
            Role::Gear,
            Role::Rack,
            Role::Hold,
            Role::Ghost,
            Role::Origin,
            Role::SelectedEdge,
        ];
        for theme in [Theme::LIGHT, Theme::DARK] {
            for mark in marks {
                let found = contrast(theme.color(mark), theme.color(Role::Canvas));
                assert!(found >= 3.0, "{theme:?} {mark:?}: {found:.2}");
            }
        }
    }
}
