namespace DecayAtlas.Kit.Printing;

/// <summary>A class compares two places: guess, what is held equal, control, results, and what so many bags can tell at all.</summary>
internal static class ExperimentSheet
{
    public static Markup Of(GroupKit kit)
    {
        Phrases words = kit.Words;
        int[] holes = [.. kit.HoleNumbers];
        int first = (holes.Length + 1) / 2;
        SchoolExperiment? two = kit.Campaign.Experiment;
        ClassShare share = ClassShare.Of(kit);
        IEnumerable<string> told = ToldApart.Of(kit.Holes, two).Sentences(two, words);
        return Markup.Of(
            $"""
            <p class="lead">{words["kit.experiment.question"]}</p>
            <dl class="two"><div><dt>{words["kit.experiment.warm"]}</dt><dd>{two?.Warm.In(words.Code)}</dd></div>
            <div><dt>{words["kit.experiment.cold"]}</dt><dd>{two?.Cold.In(words.Code)}</dd></div></dl>
            <section class="half"><h2>{words["kit.experiment.guess"]}</h2>{KitPage.Lines(1)}
            <p>{words["kit.experiment.because"]}</p>{KitPage.Lines(1)}</section>
            <section><h2>{words["kit.experiment.equal"]}</h2><p>{words["kit.experiment.equal.list"]}</p>{KitPage.Lines(1)}</section>
            <section><h2>{words["kit.experiment.control"]}</h2><p>{words["kit.experiment.control.text"]} {share.Spare}</p></section>
            <section class="tell"><h2>{words["kit.experiment.tell"]}</h2>{told.Select(said => Markup.Of($"<p>{said}</p>"))}</section>
            <section class="results"><h2>{words["kit.experiment.result"]}</h2><p>{string.Join(' ', share.Sentences)}</p>
            <div class="side-by-side">{Results("warm", holes[..first])}{Results("cold", holes[first..])}</div></section>
            <section><h2>{words["kit.experiment.found"]}</h2>{KitPage.Lines(2)}</section>
            <section><h2>{words["kit.experiment.right"]}</h2>{KitPage.Lines(2)}</section>

            """);

        Markup Results(string place, int[] numbers)
        {
            string[] heads = [words["kit.column.hole"], $"A{words.Colon}{words["kit.experiment.left"]}",
                $"B{words.Colon}{words["kit.experiment.left"]}"];
            IEnumerable<Markup[]> rows = numbers.Select(KitPage.Plain).Append(words["kit.experiment.mean"])
                .Select(hole => (Markup[])[hole, Markup.None, Markup.None]);
            string which = numbers.Length == 0 ? ""
                : words.Say("kit.experiment.holes", KitPage.Plain(numbers[0]), KitPage.Plain(numbers[^1]));
            string name = words[$"kit.experiment.{place}"];
            return Markup.Of(
                $"""
                <div><h3>{(which.Length == 0 ? name : words.Say("kit.of", name, which))}</h3>
                {KitPage.Table("shares", words[$"kit.experiment.{place}"], heads, rows)}</div>

                """);
        }
    }
}
