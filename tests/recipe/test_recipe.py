"""Recipes: what is written is read, every mistake has its line, variables and includes stand for what they say."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import RecipeError
from crossgrain.recipe import Recipe, Step, read_recipe, write_recipe

KEYS = st.from_regex(r"[a-z][a-z-]{0,11}", fullmatch=True).filter(lambda key: key not in ("do", "include"))
TEXTS = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\r"), min_size=1, max_size=20)
VALUES = st.one_of(st.booleans(), st.lists(TEXTS, min_size=1, max_size=3).map(tuple))
STEPS = st.builds(
    Step, do=KEYS, given=st.dictionaries(KEYS, VALUES, max_size=4).map(lambda found: tuple(found.items()))
)
RECIPES = st.builds(
    Recipe,
    steps=st.lists(STEPS, min_size=1, max_size=4).map(tuple),
    title=st.one_of(st.just(""), TEXTS),
    variables=st.dictionaries(KEYS, TEXTS, max_size=3).map(lambda found: tuple(found.items())),
)


def told(recipe):
    return recipe.title, recipe.variables, tuple((step.do, step.given) for step in recipe.steps)


def write(folder, text, name="r.toml"):
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


class TestLaws:
    @given(recipe=RECIPES)
    def test_what_is_written_is_read(self, tmp_path_factory, recipe):
        path = write(tmp_path_factory.mktemp("r"), write_recipe(recipe, remarks=["a remark"]))
        assert told(read_recipe(path)) == told(recipe)

    @given(recipe=RECIPES)
    def test_every_line_number_is_that_of_its_line(self, tmp_path_factory, recipe):
        text = write_recipe(recipe)
        lines = text.splitlines()
        for step in read_recipe(write(tmp_path_factory.mktemp("r"), text)).steps:
            assert lines[step.line - 1].startswith("do = ")
            for key, line in step.lines:
                assert lines[line - 1].startswith(f"{key} = ")

    def test_what_is_written_is_toml_for_the_library_too(self):
        text = write_recipe(Recipe(steps=(Step(do="allow", given=(("width", ('1\t"2"',)),)),)))
        assert tomllib.loads(text) == {"step": [{"do": "allow", "width": '1\t"2"'}]}

    @given(recipe=RECIPES)
    def test_without_variables_nothing_is_filled(self, recipe):
        if not any(step.variables for step in recipe.steps):
            assert recipe.filled({}) == recipe.steps


class TestVariables:
    STEP = Step(do="reduce", given=(("fabric", ("{cloth}.toml",)), ("by", ("{share}",))))
    RECIPE = Recipe(steps=(STEP,), variables=(("cloth", "softer"), ("share", "8%")))

    def test_what_is_given_goes_before_what_the_recipe_says(self):
        [step] = self.RECIPE.filled({"cloth": "firmer"})
        assert dict(step.given) == {"fabric": ("firmer.toml",), "by": ("8%",)}

    def test_one_that_stands_for_nothing_is_refused(self):
        with pytest.raises(RecipeError, match=r"variable \{cloth\} is not known") as refused:
            Recipe(steps=(self.STEP,), variables=(("clot", "x"), ("share", "8%"))).filled({})
        assert "clot?" in refused.value.advice

    def test_one_that_no_step_uses_is_refused(self):
        with pytest.raises(RecipeError, match=r"No step of the recipe uses the variable \{size\}"):
            self.RECIPE.filled({"size": "40"})


class TestVariablesInVariables:
    def read(self, tmp_path, variables, used="{body}"):
        text = f'[variables]\n{variables}\n[[step]]\ndo = "reduce"\nbody = "{used}"\n'
        return read_recipe(write(tmp_path, text))

    def test_one_may_speak_of_another(self, tmp_path):
        read = self.read(tmp_path, 'body = "body-size-{size}.toml"\nsize = "10"')
        assert dict(read.filled({})[0].given) == {"body": ("body-size-10.toml",)}
        assert dict(read.filled({"size": "12"})[0].given) == {"body": ("body-size-12.toml",)}
        assert dict(read.filled({"body": "mine.toml"})[0].given) == {"body": ("mine.toml",)}

    @pytest.mark.parametrize("text", ['body = "{body}"', 'body = "{size}"\nsize = "{x}"\nx = "{body}"'])
    def test_none_may_stand_for_itself(self, tmp_path, text):
        read = self.read(tmp_path, text)
        with pytest.raises(RecipeError, match=r"^r\.toml, line \d: The variable \{\w+\} stands for itself"):
            read.filled({})

    def test_one_that_speaks_of_an_unknown_one_is_refused_with_its_own_line(self, tmp_path):
        read = self.read(tmp_path, 'x = "1"\nbody = "{siez}"\nsize = "{x}"')
        with pytest.raises(
            RecipeError, match=r"^r\.toml, line 3: The variable \{siez\} is not known. Did you mean size"
        ):
            read.filled({})

    def test_what_is_unused_is_known_with_its_line_and_the_nearest_that_is_used(self, tmp_path):
        read = self.read(tmp_path, 'size = "10"\nbody = "{size}"\nboddy = "x"')
        [mistake] = read.unused()
        assert str(mistake) == "r.toml, line 4: No step of the recipe uses the variable {boddy}. Did you mean body?"
        assert not self.read(tmp_path, 'size = "10"\nbody = "{size}"').unused()

    def test_what_cannot_stand_in_braces_is_no_name(self, tmp_path):
        with pytest.raises(RecipeError, match=r"r\.toml, line 2: “a b” cannot name a variable"):
            self.read(tmp_path, '"a b" = "x"')


class TestIncludes:
    def test_its_steps_stand_where_it_is_included_and_say_where_they_come_from(self, tmp_path):
        write(tmp_path, '[variables]\nw = "10mm"\nx = "1"\n[[step]]\ndo = "allow"\nwidth = "{w}"\n', "cut.toml")
        path = write(
            tmp_path,
            '[variables]\nw = "15mm"\n[[step]]\ndo = "reduce"\n[[step]]\ninclude = "cut.toml"\n[[step]]\ndo = "true"\n',
        )
        read = read_recipe(path)
        assert [step.do for step in read.steps] == ["reduce", "allow", "true"]
        assert read.steps[1].file == tmp_path / "cut.toml"
        assert dict(read.variables) == {"w": "15mm", "x": "1"}
        assert read.files == (path, tmp_path / "cut.toml")

    def test_a_circle_is_refused(self, tmp_path):
        write(tmp_path, '[[step]]\ninclude = "a.toml"\n', "b.toml")
        with pytest.raises(RecipeError, match=r"a\.toml includes itself"):
            read_recipe(write(tmp_path, '[[step]]\ninclude = "b.toml"\n', "a.toml"))

    def test_a_link_that_leads_to_itself_is_refused(self, tmp_path):
        (tmp_path / "loop.toml").symlink_to(tmp_path / "loop.toml")
        with pytest.raises(RecipeError, match=r"r\.toml, line 2: .*loop\.toml cannot be read"):
            read_recipe(write(tmp_path, '[[step]]\ninclude = "loop.toml"\n'))

    def test_a_name_that_no_file_can_have_is_refused(self, tmp_path):
        with pytest.raises(RecipeError, match=r"r\.toml, line 2: .*no file can have that name"):
            read_recipe(write(tmp_path, '[[step]]\ninclude = "a\\u0000"\n'))

    def test_one_may_be_included_twice_and_many_within_each_other_but_not_without_end(self, tmp_path):
        write(tmp_path, '[[step]]\ndo = "true"\n', "0.toml")
        for number in range(1, 10):
            twice = f'[[step]]\ninclude = "{number - 1}.toml"\n' * (2 if number == 1 else 1)
            path = write(tmp_path, twice, f"{number}.toml")
        assert [step.do for step in read_recipe(tmp_path / "8.toml").steps] == ["true", "true"]
        with pytest.raises(RecipeError, match=r"^1\.toml, line 2: Recipes include each other more than 8 deep"):
            read_recipe(path)

    def test_one_that_is_not_there_is_named_with_the_line_that_wants_it(self, tmp_path):
        path = write(tmp_path, '# first\n[[step]]\ninclude = "gone.toml"\n')
        with pytest.raises(RecipeError, match=r"r\.toml, line 3: .*gone\.toml cannot be read"):
            read_recipe(path)

    def test_a_mistake_within_it_names_its_own_line(self, tmp_path):
        write(tmp_path, '[[step]]\ndo = "allow"\nwidth = 10.0\n', "cut.toml")
        with pytest.raises(RecipeError, match=r"^cut\.toml, line 3: “width” is 10\.0, without a unit"):
            read_recipe(write(tmp_path, '[[step]]\ninclude = "cut.toml"\n'))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", r"line 1: The recipe has no steps"),
        ("title = 3\n[[step]]\ndo='true'", r"line 1: “title” is no text"),
        ('x = "1"\n[[step]]\ndo = "true"', r"line 1: “x” is not known"),
        ('[[steps]]\ndo = "true"', r"line 1: “steps” is not known"),
        ('[[step]]\nby = "8%"', r"line 1: A step does not say what is done"),
        ("[[step]]\ndo = 'true'\n[[step]]\ndo = 'allow'\nwidth = {a = 1}", r"line 5: “width” is no text"),
        ("[[step]]\ndo = 'allow'\nwidth = [0.5]", r"line 3: “width” is 0\.5, without a unit"),
        ("[variables]\ncloth = ['a']\n[[step]]\ndo = 'true'", r"line 2: “cloth” is no text"),
        ("variables = 'x'\nstep = [{do = 'true'}]", r"“variables” is no table"),
        ("[[step]]\ninclude = 'a.toml'\ndo = 'true'", r"line 2: A step that includes a recipe says nothing else"),
        ("step = 'x'", r"The recipe has no steps"),
        ("[[step]\ndo", r"^r\.toml, line 1: This is no TOML: "),
        ('[[step]]\ndo = "true', r"^r\.toml, line 2: This is no TOML: "),
        ('[[step]]\ndo = "a"\n# x\ndo = "b"\nx = "1"', r"^r\.toml, line 4: “do” stands there twice"),
        ('[variables]\na="1"\n\n[variables]\n[[step]]\ndo = "b"', r"^r\.toml, line 4: “variables” stands there twice"),
        ('[[step]]\ndo = "a"\n[step]\ndo = "b"', r"^r\.toml, line 3: "),
        ("[[step]]\ninclude = 3", r"line 2: “include” is no text"),
    ],
)
def test_what_is_no_recipe_is_refused_with_its_line(tmp_path, text, said):
    with pytest.raises(RecipeError, match=said):
        read_recipe(write(tmp_path, text))


def test_bytes_that_are_no_text_are_refused(tmp_path):
    (tmp_path / "r.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(RecipeError, match="no text in UTF-8"):
        read_recipe(tmp_path / "r.toml")
