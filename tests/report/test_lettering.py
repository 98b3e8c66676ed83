"""Names of any script and picture letters have a glyph, or are told in words."""

from importlib.resources import files

import pytest
from report_jobs import FLAG, SHOP, Bench, photo_bytes
from test_report_pdf import read, unwrapped

from jobnotes.record import Complaint, Machine
from jobnotes.report.content import story
from jobnotes.report.english import clean, rules
from jobnotes.report.html import html
from jobnotes.report.lettering import drawn_as_read, legible, markup, missing
from jobnotes.report.unprinted import unprinted

# Scripts with a locale in the Unicode CLDR, and others that are written today; a word of each.
WORDS = """
Zoë Łukasz Ōno Nguyễn Ελένη Жанна Դավիթ გიორგი ᲒᲘᲝᲠᲒᲘ אבי محمد زۆراب گۇل ܝܘܚܢܢ
މުޙައްމަދު ߡߏߘߌ߫ ࠀࠁࠂ ࡀࡁࡂ 𞤀𞤣𞤢𞤥 𐴀𐴞𐴕 अमित অমিত ਅਮਿਤ અમિત ଅମିତ୍ அமித் అమిత్ ಅಮಿತ್ അമിത്
ශ්\u200dරී สมชาย ສົມໄຊ བསྟན་འཛིན အောင်ဆန်း សុខា ᠪᠠᠲᠤ ᤀᤠᤱᤒᤠ ᥖᥭᥰ ᦟᦹᧉ ᨒᨑ ᩉᨾᩥ ᬓᬢᬸᬢ᭄ ᮞᮥᮔ᮪ᮓ
ᯅᯖᯂ᯲ ᰛᰩᰵ ᜆᜄᜎᜓ ᜱᜨᜳ ꠀꠡꠤ ꢱꣃꢬ ꤊꤢꤛ ꥆꥉ ꦗꦮꦶꦤ꧀ ꨌꩌ ꪶꪼꪣ ꯃꯤꯇꯩ 𑄌𑄋𑄴𑄟𑄳𑄦 𑐣𑐾𑐥𑐵𑐮 አበበ ᏣᎳᎩ ᐃᓄᒃᑎᑐᑦ ᱥᱟᱱᱛᱟᱲ
ⵎⵓⵃⴰ ꆈꌠ ꓡꓲ ꕙꔤ 𐐀𐐨𐑊 𐒈𐒝𐒑 𐓏𐓘𐓻 𑃐𑃑 𑢹𑣗 𖩀𖩁 𖬌𖬣𖬵 𖼀𖽑𖼁 𞄐𞄦𞄲 𞋂𞋃 山田太郎 髙﨑 𠮷野 鑫㛃𫖮 喆洙 김철수 ｶﾀｶﾅ ㄅㆠ
"""
NAMES = WORDS.split()
NO_FACE = "\U00012000"  # cuneiform, for which no face is bundled


@pytest.mark.parametrize("name", NAMES)
def test_a_name_of_any_living_script_has_every_glyph(name):
    assert missing(name) == ""


@pytest.mark.parametrize("names", [NAMES[at : at + 20] for at in range(0, len(NAMES), 20)])
def test_each_name_is_drawn_without_an_empty_glyph(names):
    bench = Bench()
    for name in names:
        bench.fact(Complaint, text=name)
    reader = read(bench.job())
    for page in reader.pages:
        for face in page["/Resources"]["/Font"].values():
            mapped = face.get_object()["/ToUnicode"].get_object().get_data()
            assert b"<0000>" not in mapped


@pytest.mark.parametrize("charset", ["euc_jis_2004", "gb2312", "big5", "euc_kr", "hz", "cp932"])
def test_every_character_of_the_character_sets_of_east_asia_has_a_glyph(charset):
    # as Python's codecs have them: JIS X 0213, GB 2312, Big5, KS X 1001, Windows-31J
    blocks = (
        range(0x3041, 0x30FF),
        range(0x3400, 0xA000),
        range(0xAC00, 0xD7A4),
        range(0x20000, 0x2A6E0),
    )
    there = [char for block in blocks for char in map(chr, block) if encodes(char, charset)]
    assert len(there) > 6000
    assert missing("".join(there)) == ""


def encodes(char: str, charset: str) -> bool:
    try:
        return bool(char.encode(charset))
    except UnicodeEncodeError:
        return False


def test_every_picture_letter_has_a_glyph():
    # Unicode 15, code charts: the whole block of emoticons, and some that a workshop may use
    assert missing("".join(chr(code) for code in range(0x1F600, 0x1F650))) == ""
    assert missing("\U0001f525\U0001f6d1\U0001f527\U0001fae8☎⚠✅❤") == ""


def test_a_picture_letter_that_python_does_not_know_yet_is_kept():
    assert clean("it \U0001fae8 shakes") == "it \U0001fae8 shakes"


@pytest.mark.parametrize("said", ["\U0001f44d\U0001f3fd", "❤\ufe0f", "1\ufe0f\u20e3", "👩\u200d🔧"])
def test_a_sequence_of_picture_letters_is_drawn_by_its_parts_and_read_as_written(said):
    assert missing(said) == ""
    assert not drawn_as_read(said)


def test_letters_without_a_glyph_are_told_in_words():
    assert legible(f"Al {NO_FACE * 2} x") == "Al [2 characters that cannot be printed] x"
    assert legible("a \N{ALCHEMICAL SYMBOL FOR GOLD} b") != "a \N{WHITE SQUARE} b"
    told = unwrapped(read(Bench().job(customer=f"Al {NO_FACE}")))
    assert "Al [1 character that cannot be printed]" in told


@pytest.mark.parametrize(
    "where",
    [{"customer": NO_FACE}, {"machine": Machine(description=NO_FACE)}, {"technician": "\ue000"}],
)
def test_the_office_is_told_what_the_pdf_cannot_show(where):
    job = Bench().job(**where)
    assert len(unprinted(job)) == 1
    assert unprinted(job)[0] in story(job, SHOP, draft=True).notes


def test_a_text_that_is_left_out_of_the_draft_is_not_told_there():
    bench = Bench()
    bench.fact(Complaint, text=f"rattles {NO_FACE}", flags=(FLAG,))
    assert unprinted(bench.job()) == ()


def test_the_office_is_not_told_of_what_the_pdf_shows():
    assert unprinted(Bench().job(customer="山田 🔥 अमित")) == ()


def test_the_page_for_a_screen_keeps_every_letter_as_it_is():
    job = Bench().job(customer=f"Al {NO_FACE}")
    assert f"Al {NO_FACE}" in html(story(job, SHOP, draft=False), photo_bytes)


def test_a_figure_among_joined_letters_from_right_to_left_keeps_its_digits():
    assert "12.5" in markup("ܐܒ 12.5 ܓܕ")
    assert "12.5" in markup("ܐܒ12.5ܓܕ")


def test_a_quotation_mark_is_no_part_of_a_word_from_right_to_left():
    assert markup("“މު”").count('<font name="NotoSansThaana-Regular">') == 3


def test_letters_that_a_face_joins_are_read_back_apart():
    # Source Serif has one glyph for "fj", which a paragraph of joined letters uses
    assert "fjord" in unwrapped(read(Bench().job(customer="fjord अमित")))


def test_every_face_that_is_bundled_is_used_and_has_its_licence_told():
    folder = files("jobnotes.report") / "fonts"
    there = {one.name.removesuffix(".ttf") for one in folder.iterdir() if one.name.endswith(".ttf")}
    named = {face["name"] for face in rules("faces")["face"]}
    assert {name for name in there if not name.startswith("Source")} == named
    told = (folder / "README.md").read_text(encoding="utf-8")
    families = ("NotoSans", "NotoSerif", "NotoEmoji", "Source", "DejaVu", "Droid")
    assert all(name.startswith(families) for name in there)
    assert all(family in told for family in families)
