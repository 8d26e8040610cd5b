//! The program: it hands over to the command line.

fn main() -> std::process::ExitCode {
    kitwright::cli::main()
}
