# Completion of amptally in fish: the program knows what may come next, this asks it.

function __amptally_complete
    set -l words (commandline -opc)
    set -l current (commandline -ct)
    for line in ($words[1] complete $words[2..] $current 2>/dev/null)
        if test "$line" = FILE
            # After --option= the name of the file begins behind the sign.
            set -l before (string match -r -- '^--[a-z-]+=' $current)
            __fish_complete_path (string replace -r -- '^--[a-z-]+=' '' $current) | string replace -r '^' -- "$before"
        else if test "$line" = FOLDER
            # The name of an output is a new one: only folders help.
            set -l before (string match -r -- '^--[a-z-]+=' $current)
            __fish_complete_directories (string replace -r -- '^--[a-z-]+=' '' $current) | string replace -r '^' -- "$before"
        else
            echo $line
        end
    end
end

complete -c amptally -f -a '(__amptally_complete)'
