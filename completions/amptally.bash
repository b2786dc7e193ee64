# shellcheck shell=bash
# Completion of amptally in bash: the program knows what may come next, this asks it.

_amptally() {
  local words=() offered files current before joins='' word i
  COMPREPLY=()

  # bash parts words at = and : (COMP_WORDBREAKS); this puts them together again.
  for ((i = 1; i <= COMP_CWORD; i++)); do
    word=${COMP_WORDS[i]}
    current=$word
    if [[ $word =~ ^[=:]+$ && ${#words[@]} -gt 0 ]]; then
      words[-1]+=$word
      current=
      joins=yes
    elif [[ -n $joins && ! (-z $word && ${COMP_LINE:0:COMP_POINT} == *[[:blank:]]) ]]; then
      words[-1]+=$word
      joins=
    else
      words+=("$word")
      joins=
    fi
  done
  # What stands before it stays on the line as it is.
  before=${words[-1]%"$current"}

  mapfile -t offered < <("$1" complete "${words[@]}" 2>/dev/null)
  for word in "${offered[@]}"; do
    word=${word%%$'\t'*}
    if [[ $word == FILE || $word == FOLDER ]]; then
      if [[ $word == FILE ]]; then
        mapfile -t files < <(compgen -f -- "$current")
      else
        mapfile -t files < <(compgen -d -- "$current")
      fi
      COMPREPLY+=("${files[@]}")
      compopt -o filenames
    else
      COMPREPLY+=("${word:${#before}}")
      [[ $word == *= ]] && compopt -o nospace
    fi
  done
}

complete -F _amptally amptally
