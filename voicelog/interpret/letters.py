"""How a word that no dictionary has is likely to be said: from its parts, then from its letters.

"Crossmembers" is two known words, "recoated" a known one and a prefix; what is left goes through
rules of English spelling (our own, after the regular correspondences that any phonics primer
lists, British endings such as -our and -re included).

Over CMUdict, a good part of which is family names, the letter rules alone get 0.16 of the phonemes
wrong (``tests/outside/test_pronunciations.py`` measures it), and what they make of a word is on
average 0.91 like its sound.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache
from typing import NamedTuple

from voicelog.interpret.pronunciations import pronounced

_RULES = r"""
a  ^<a>$=@ ^<a>([bcdfglmnprst])\1=@ [aeiouy][^aeiou]<ar>$=R [aeiouy][^aeiou]<ard>s?$=Rd
a  [a-z][a-z]<al>s?$|l?y$=@l [aeiouy][^aeiou]<an>s?$|t|c=@n <a>r[aeiou]r?e?=e <a>rr=e
a  w<a>r[^aeiou]|r$=O <a>r=A air=er aigh=E ai=E ay=E augh=O au=O aw=O w<a>[tns]=A qu<a>[dln]=A
a  <a>l[kl]=O alm=Am <a>ge$=i <a>tion=E <a>[bcdfgklmnpstvz]e[ds]?$=E <a>[bcdfgklmnpstvz]ing$=E
a  <a>ste=E <a>[bcdfgklmnptv]i[aou]=E [^aeiou]<a>bl[ey]=@ ae=I <a>$=@ a=a
b  bb=b m<b>$= m<b>s|ed|ing|er= <b>t$= b=b
c  ^s<ch>[^aeiou]= s<ch>[oer]=k <ch>[lrn]=k [aeiou]<tch>=C ch=C <ch>t$=k ck=k cqu=kw <cc>[eiy]=ks
c  cc=k <ci>[aou]=S s<c>[eiy]= <c>[eiy]=s c=k
d  dge=J <dg>[iy]=J dd=d [pkfscxt]<ed>$=t d=d
e  [td]<ed>$=id [pkfsxh]<ed>$=t [aeiou][bgvlmnrzy]<ed>$=d [a-z][bglmnvrzw]<ed>$=d eigh=E <ey>$=I
e  ey=E <ear>[bcdflmnpstvz]=R ear=Ir eer=ir <ea>d$|th|lth|sur|ther|vy=e ea=I ee=I <ei>[lnr]=E
e  c<ei>=I ei=Y eu=yU [rljdtsn]<ew>=U ew=yU <er>ing|ed$|able|ation|y$=R err=er <er>[aeiouy]=er
e  <ere>$=ir er=R [csgzhx]<es>$=iz [ptkf]<es>$=s [aeiou][^aeiou]<es>$=z [a-z]<e>s$=
e  [a-z]<e>ly$|ment|ful|less= [^aeiou]<e>ing$= ^<e>[a-z]$=I ^[bcdfghlmnpstvw]<e>$=I l<e>$= <e>$=
e  <el>$=@l <en>$=@n ^<re>[^aeiou][aeiou]=ri ^<de>[^aeiou][aeiou]=di ^<be>[^aeiou][aeiou]=bi
e  <e>ness= <ent>s?$|ly$=@nt <ets>$=it <et>$=it e=e
f  ff=f f=f
g  ^<gn>=n <gn>$=n n<g>l[ei]=g gg=g <gh>$= <gh>t= ^<gh>=g gh=g n<g>$= <gu>[ei]=g <gue>$=g
g  <g>e[^lt]=J <g>e$=J <g>i[aon]=J <g>y$|ic|ist=J g=g
h  [aeiou]<h>$= <h>[^aeiouy]= <h>$= h=h
i  igh=Y <ign>$=Yn <ind>$=Ynd <ild>$=Yld <ir>[aeiou]=Yr <ire>$=YR irr=ir ir=R <ier>$=IR <ie>d$=I
i  <ies>$=Iz <ie>$=I ie=I [a-z]<io>n=@ <i>[bcdfgklmnpstvz]e[ds]?$=Y <i>[bcdfgklmnpstvz]ing$=Y
i  <i>[aou]=I <i>$=I i=i
j  j=J
k  ^<k>n= kk=k k=k
l  [bcdfgkpstz]<le>$=@l [bcdfgkpstz]<les>$=@lz [bcdfgkpstz]<led>$=@ld ll=l <l>k$|m$= l=l
m  ^<mcc>=m@k ^<mc>=m@k mm=m m=m
n  nn=n <ng>[aouylr]=Ng <ng>s?$=N <ng>ing|ed|[bcdfhkmnpst]=N <ng>er=Ng <ng>e=nJ <n>g=N <n>[kqx]=N
n  m<n>$= n=n
o  oar=Or oa=o oor=Or [bghlmtwf]<oo>k=u oo=U oi=X oy=X <ough>t=O <ough>$=o ough=@f <our>$=R
o  <ours>$=Rz <oured>$=Rd <ou>s$=@ <oul>d=u ou=W <ow>n$|l|d|er=W <ow>$=o ow=o
o  <o>[bcdfgklmnpstvz]e[ds]?$=o <o>[bcdfgklmnpstvz]ing$=o ^<over>=ovR <or>$=R <ors>$=Rz w<or>=R
o  or=Or <o>l[dkt]=o <o>ll$=o <o>st$=o oe=o <o>$=o <os>$=oz [a-z]<on>$=@n [a-z]<ons>$=@nz
o  <o>ther|ver|ney|ven=@ c<om>[bmp]=@m ^c<on>=@n <o>[bcdfgklmnpstv]i[aou]=o o=A
p  ^<ps>=s ^<pn>=n ph=f pp=p p=p
q  <que>$=k qu=kw q=k
r  ^<rh>=r rr=r [aeiou][tc]<re>$=R [aeiou][tc]<res>$=Rz nt<re>$=R [tb]<re>$=R r=r
s  sch=S [aeiou]<se>$=z ssion=S@n [aeiou]<sion>=Z@n sion=S@n [aeiou]<sure>=ZR ssure=SR sh=S ss=s
s  [aeiou]<s>[ei][a-z]?$=z [bdglmnrvw]<s>$=z [eiouy]<s>m$=z [aeo]<s>$=z i<sm>$=z@m
s  [aeiou]<s>ing$|ed$|er$=z s=s
t  tch=C <th>e[rm]|is|at|os=D th=T tion=S@n <ti>[aou]=S ture=CR tt=t s<t>le$|en= t=t
u  ^<un>i=yUn ^<un>=@n <ur>[aeiou]=yur urr=R ur=R g<u>[aeio]= ui=U [rljsd]<ue>$=U <ue>$=yU
u  [rljscd]<u>[bcdfgklmnpstvz]e[ds]?$=U <u>[bcdfgklmnpstvz]e[ds]?$=yU <u>ll$|sh$=u
u  [rljsd]<u>[^aeiou][aeiou]=U [bcfghmpv]<u>[^aeiou][iaou]=yU <u>$=U u=@
v  vv=v v=v
w  ^<wr>=r <wh>o=h wh=w <w>[aeiouy]=w w=
x  ^<x>=z <x>[aei][^d]=gz x=ks
y  ^<y>=y <y>[bcdfgklmnpstvz]e[ds]?$=Y <yr>e=Yr ^[bcdfghklmnpst]<y>$=Y ^[a-z][a-z]<y>$=Y <fy>$=fY
y  <y>$=I [aeiou]<y>[aeiou]=y y=i
z  zz=z t<z>=s z=z
"""
"""Per letter, in the order tried: ``before<letters>after=sound``, what must stand before and after
as regular expressions, the sound in ``pronunciations.PHONEMES``."""

_SHORTEST_PART = 3
"""Letters of a part: the dictionary has nearly every pair of letters as somebody's initials."""
_PREFIXES = {"re": "rI", "un": "@n", "de": "dI"}


class _Rule(NamedTuple):
    letters: str
    around: str
    sound: str

    def fits(self, word: str, at: int) -> bool:
        """True where the letters stand at this place of the word, and the rest around them."""
        if not word.startswith(self.letters, at):
            return False
        return not self.around or _pattern(self.around).match(word, at) is not None


@cache
def _pattern(around: str) -> re.Pattern[str]:
    """Compiled when first needed: few of them are, and all take a third of the start-up."""
    return re.compile(around)


@cache
def _rules() -> dict[str, tuple[_Rule, ...]]:
    rules: dict[str, tuple[_Rule, ...]] = {}
    for line in filter(None, _RULES.split("\n")):
        made = (_rule(written) for written in line.split()[1:])
        rules[line[0]] = (*rules.get(line[0], ()), *made)
    return rules


def _rule(written: str) -> _Rule:
    taken, _, sound = written.rpartition("=")
    before, opened, rest = taken.partition("<")
    if not opened:
        return _Rule(taken, "", sound)
    letters, _, after = rest.partition(">")
    ahead = f"(?<={before})" if before else ""
    return _Rule(letters, f"{ahead}{letters}(?={after})", sound)


def by_letters(word: str) -> str:
    """The phonemes of a word by the rules of spelling alone; characters that are no letters of
    the Latin alphabet, accents aside, are silent.
    """
    word = re.sub("[^a-z]", "", unicodedata.normalize("NFKD", word.lower()))
    said, at = "", 0
    while at < len(word):
        rule = next(rule for rule in _rules()[word[at]] if rule.fits(word, at))
        said, at = said + rule.sound, at + len(rule.letters)
    return said


def pronounce(word: str) -> str:
    """The phonemes of a word that the dictionary lacks: as two words run together where it is
    made of such, the most even pair first ("tow bar" before "to war"); else by its letters.
    """
    splits = range(_SHORTEST_PART, len(word) - _SHORTEST_PART + 1)
    for at in sorted(splits, key=lambda at: abs(2 * at - len(word))):
        head, tail = pronounced(word[:at]), pronounced(word[at:])
        if head and tail:
            return head[0].removesuffix(tail[0][0]) + tail[0]
    for prefix, sound in _PREFIXES.items():
        stem = pronounced(word.removeprefix(prefix)) if word.startswith(prefix) else ()
        if stem:
            return sound + stem[0]
    return by_letters(word)
