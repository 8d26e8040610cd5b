#!/bin/sh
# The Nu HTML checker (npm `vnu-jar`) on every page and style sheet of a folder: no error and no warning.
# Usage: markup.sh FOLDER VNU_JAR
set -eu
folder=$1
jar=$2
find "$folder" -name '*.html' -print0 | sort -z | xargs -0 java -jar "$jar" --Werror --format gnu
find "$folder" -name '*.css' -print0 | sort -z | xargs -0 java -jar "$jar" --Werror --css --format gnu
echo "$(find "$folder" -name '*.html' | wc -l) pages checked"
