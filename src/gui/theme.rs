//! The colours by role, light and dark.
//!
//! Hues follow the palette of Okabe and Ito, which colour-blind eyes can tell apart; each is darkened or
//! lightened until text in it reads on its ground. Nothing is told by colour alone.

use egui::Color32;

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
            Role::Selected => (0xCF_E6_F5, 0x1D_46_60),
            Role::SelectedEdge => (0x00_5A_8F, 0x9A_D4_F5),
            Role::Fail => (0xA8_3E_00, 0xFF_8F_4D),
            Role::Undecided => (0x8A_3F_70, 0xE3_9B_C8),
            Role::Near => (0x7A_56_00, 0xF0_B7_3A),
            Role::Note => (0x00_5A_8F, 0x6C_BE_EE),
            Role::Pass => (0x00_6B_4F, 0x35_C2_98),
            Role::Off => (0x5E_66_70, 0x9A_A3_AD),
            Role::String => (0x3D_6E_8F, 0x6F_A3_C4),
            Role::OtherString => (0x9A_6A_1F, 0xD0_A2_5A),
            Role::Vehicle => (0xB4_BB_C3, 0x4B_54_5F),
            Role::Gear => (0x6B_74_7E, 0x8A_94_A0),
            Role::Rack => (0x4A_52_5B, 0xA9_B2_BC),
            Role::Hold => (0x8A_3F_70, 0xE3_9B_C8),
            Role::Ghost => (0x00_6B_4F, 0x35_C2_98),
            Role::Origin => (0x9A_A2_AB, 0x5E_67_72),
        };
        let rgb: u32 = if self.dark { dark } else { light };
        Color32::from_rgb((rgb >> 16) as u8, (rgb >> 8) as u8, rgb as u8)
    }
}
