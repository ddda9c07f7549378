#!/bin/sh
# Check a proposed change to a project, build what its readers would see, and tell what it comes to.
#
#   sh check-proposed-change.sh PROJECT BASE [OUTPUT]
#
# PROJECT: the project folder, in a clone of its repository at the proposed change.
# BASE: commit, tag or branch that the change is proposed against; the clone has to hold it.
# OUTPUT: folder for what a reviewer looks at; left out, `review`.
#
# Whatever service runs it: give it a machine with this program installed, and a clone that is deep enough to
# hold BASE. Afterwards keep OUTPUT, and put OUTPUT/changes.md into a comment. Exit status: 0 good; 1 an error
# finding stands that nobody accepted; 2 the project is wrong; 3 the program itself failed.
set -eu

project=$1
base=$2
output=${3:-review}
mkdir -p "$output"

# Findings, one a line as editors and services take them: file:line:column: severity: ...
status=0
proposal check "$project" > "$output/findings.txt" || status=$?
cat "$output/findings.txt"
if [ "$status" -gt 1 ]; then
    exit "$status"
fi

# The sites of all readers, to be looked at. They are built although errors stand, and show them.
built=0
proposal build "$project" || built=$?
if [ "$built" -gt 1 ]; then
    exit "$built"
fi
for reader in client reviewer estimator installer; do
    rm -rf "$output/$reader"
    cp -R "$project/build/$reader/site" "$output/$reader"
done

# What the change comes to: as the reviewer sees it for a comment, and whole for programs.
proposal compare "$project" "git:$base" . --format markdown --output "$output/changes.md"
proposal compare "$project" "git:$base" . --format json --output "$output/changes.json"

exit "$status"
