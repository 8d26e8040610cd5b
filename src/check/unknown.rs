//! What the rules about unknown names share: one finding for a name, however often it is used.

use super::names::{Kind, Use};
use super::{Context, Rule};
use crate::diag::{Diagnostic, Sink, did_you_mean_or, nearest};

/// How many further places of one cause are noted.
pub const MOST_NOTES: usize = 8;

/// One finding for each name of `kind` that does not exist, at its first place, with notes at the others. `headline`
/// makes the headline from the name, `otherwise` is the help where no name is near.
pub fn unknown(ctx: &Context, rule: &Rule, kind: Kind, headline: impl Fn(&str) -> String, otherwise: &str) -> Sink {
    let mut sink = Sink::new();
    for (name, mentions) in ctx.names.unknown(kind) {
        let mut mentions = mentions.iter().filter(|m| m.how.must_be_known());
        let Some(first) = mentions.next() else { continue };
        let others: Vec<_> = mentions.collect();
        // What is sent may be a part or hardware.
        let item = first.how == Use::Sent;
        let near = likely(ctx, kind, name).or_else(|| nearest(name, ctx.names.known(Kind::Item).filter(|_| item)));
        let help = match near {
            Some(near) => did_you_mean_or(near, otherwise),
            None => otherwise.to_owned(),
        };
        let mut d = rule.found(headline(name)).at(first.span, "there is no such name").help(help).about(name);
        for other in others.iter().take(MOST_NOTES) {
            d = d.note(other.span, other.how.note());
        }
        sink.push(more(d, others.len()));
    }
    sink
}

/// Says in the help how many places are not noted.
fn more(mut d: Diagnostic, others: usize) -> Diagnostic {
    if others > MOST_NOTES {
        d.help.push_str(&format!("; {} more places name it", others - MOST_NOTES));
    }
    d
}

/// The name that was probably meant: one that is left over because of it, else the nearest.
fn likely<'c>(ctx: &'c Context, kind: Kind, name: &str) -> Option<&'c str> {
    let excused = |known: &&str| match kind {
        Kind::Part => ctx.excuses.parts.contains(&crate::units::PartNumber::new(known)),
        Kind::Hardware => ctx.excuses.hardware.contains(&crate::units::Designation::new(known)),
        Kind::Figure => ctx.excuses.figures.contains(&crate::units::FigureName::new(known)),
        _ => false,
    };
    nearest(name, ctx.names.known(kind).filter(excused)).or_else(|| nearest(name, ctx.names.known(kind)))
}
