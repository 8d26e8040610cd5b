//! A column of the kit register that looks as if it held names, addresses or numbers of people.
//!
//! It matters because the register lies among the sources, in version control and on the machines of all who work on the
//! manual; what is once in there is hard to take out again. The serial number is enough to find the builder in the books.
//!
//! Wrong: a column `customer` in kits.csv. Right: no such column.
//!
//! To accept, where the column holds something else: `accept: [{ rule: personal-data, about: builder, reason: ... }]` in
//! manual.yaml.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "personal-data",
    level: Level::Warning,
    summary: "a column of the kit register that looks like personal data",
    source: "common practice: no data that is not needed (Regulation (EU) 2016/679, article 5)",
    bending: Leave::Allowed,
    file: include_str!("personal_data.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let finding = |column: &crate::source::Spanned<String>| {
        RULE.found(format!("the column `{}` looks like personal data", column.value))
            .at(column.span, "the register needs no more than the serial number")
            .help("take the column out, here and from version control, and keep it where your customers' data is kept")
            .about(&column.value)
    };
    ctx.manual.personal.iter().map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn nobody_is_named() {
        assert_eq!(
            sound().add("kits.csv", "serial,configuration,Customer\n7,BASE,x\n").findings(),
            ["personal-data kits.csv `Customer`"]
        );
        assert_eq!(
            sound().add("kits.csv", "serial,configuration,e-mail address\n7,BASE,x\n").findings(),
            ["personal-data kits.csv `e-mail address`"]
        );
        assert_eq!(sound().add("kits.csv", "serial,configuration,date,status\n7,BASE,,\n").findings(), [""; 0]);
    }
}
