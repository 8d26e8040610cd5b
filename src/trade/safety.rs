//! Signal words of safety messages.

/// The words of ANSI Z535.6, and `Note` for help.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SafetyWord {
    Danger,
    Warning,
    Caution,
    Notice,
    Note,
}

impl SafetyWord {
    /// The word as printed.
    pub fn word(self) -> &'static str {
        match self {
            Self::Danger => "DANGER",
            Self::Warning => "WARNING",
            Self::Caution => "CAUTION",
            Self::Notice => "NOTICE",
            Self::Note => "NOTE",
        }
    }

    /// Whether the alert symbol stands before the word (ANSI Z535.4: it marks injury, so not NOTICE).
    pub fn alerts(self) -> bool {
        matches!(self, Self::Danger | Self::Warning | Self::Caution)
    }
}
