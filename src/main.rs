fn main() -> std::process::ExitCode {
    kitwright::cli::main()
}
