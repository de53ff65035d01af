//! Writes the man pages and the completions of both programs into a folder.

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use std::path::Path;
use std::{env, fs, io};
use sumpwright_client::command_line::ClientCommandLine;
use sumpwright_server::command_line::CommandLine;

const SHELLS: [Shell; 4] = [Shell::Bash, Shell::Zsh, Shell::Fish, Shell::PowerShell];

fn main() -> io::Result<()> {
    let folder = env::args_os().nth(1).ok_or_else(|| io::Error::other("name a folder"))?;
    let folder = Path::new(&folder);
    write(CommandLine::command().name("sumpwright"), folder)?;
    write(ClientCommandLine::command().name("sumpwright-client"), folder)
}

fn write(command: Command, folder: &Path) -> io::Result<()> {
    let (pages, completions) = (folder.join("man1"), folder.join("completions"));
    fs::create_dir_all(&pages)?;
    fs::create_dir_all(&completions)?;
    let name = command.get_name().to_owned();
    for shell in SHELLS {
        clap_complete::generate_to(shell, &mut command.clone(), &name, &completions)?;
    }
    clap_mangen::generate_to(command, &pages)
}
