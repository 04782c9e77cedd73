"""Trials and designs for checks, made in a line."""

from service.analysis.design_check import Design
from tests.analysis.made_trials import made_trial, noisy_scores


def made(means, *, rounds=8, sd=0.2, seed=1, **fields):
    return made_trial(noisy_scores(means, rounds=rounds, sd=sd, seed=seed), **{"margin": 1.0} | fields)


def one(name, trial=0):
    return Design((name,), trial)
