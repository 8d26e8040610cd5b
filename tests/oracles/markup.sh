#!/bin/sh
# The Nu HTML checker (npm `vnu-jar`) on every page and style sheet of some folders: no error and no warning. It holds the
# policy of a page against addresses of a server, where a page from disk has none; that pages opened from disk get all that
# belongs to them is asked of the browsers.
# Usage: markup.sh VNU_JAR FOLDER...
set -eu
jar=$1
shift
# Started once for all files: most of its work is in starting.
find "$@" \( -name '*.html' -o -name '*.css' \) -print0 | sort -z |
    xargs -0 java -XX:+UseSerialGC -XX:TieredStopAtLevel=1 -Xss4m -jar "$jar" --Werror --also-check-css --format gnu \
        --filterpattern '.*Resource violates Content Security Policy.*'
for folder; do
    pages=$(find "$folder" -name '*.html' | wc -l)
    echo "$folder: $pages pages checked"
    [ "$pages" -gt 0 ]
done
