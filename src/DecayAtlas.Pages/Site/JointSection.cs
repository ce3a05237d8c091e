namespace DecayAtlas.Pages.Site;

/// <summary>k and S together: the picture, what ground each class takes, and what arithmetic does to it.</summary>
internal static class JointSection
{
    public static Markup Write(Page page, PagesInputs inputs)
    {
        (Language words, JointFacts joint) = (page.Words, inputs.Joint!);
        object[] cuts = CutsOf(joint, words);
        string told = words.Percent(Share(joint.ToldSquareKilometres, joint));
        return Markup.Of(
            $"""
            <section id="joint"><h2>{words["joint.title"]}</h2><p>{words.Rich("joint.lead", cuts)}</p>{PictureOf(page, joint)}
            {Frame.Table(words["joint.title"], words.Texts("joint.class", "joint.share", "joint.share.told"), joint.Classes, c =>
                [
                    Markup.Of($"{Swatch(c.Code)} {words["map.joint." + c.Name]}"), words.Percent(Share(c.SquareKilometres, joint)),
                    words.Percent(Share(c.ToldSquareKilometres, joint)),
                ], "numbers")}
            <p>{words.Rich("joint.told", told)} <a href="{page.To(MapPage.Path)}#of=joint">{words["joint.open"]}</a></p>
            <p class="hint">{words.Rich("joint.construction")} {Markup.If(joint.Correlation is not null,
                $"{words.Rich("joint.correlation", words.Number(joint.Correlation, "0.00"))}")}</p></section>

            """);
    }

    /// <summary>The cuts in days, per day, and as S.</summary>
    public static object[] CutsOf(JointFacts joint, Language words) =>
        [words.Number(joint.CutHalfLifeDays, "0"), words.Rate(joint.CutRatePerDay), words.Number(joint.CutStabilisation, "0.000")];

    public static Markup Swatch(int code) => Markup.Of($"<span class=\"key joint-{code}\"></span>");

    private static Markup PictureOf(Page page, JointFacts joint)
    {
        string path = System.IO.Path.Combine(joint.Folder, "joint.png");
        return Markup.If(File.Exists(path),
            $"{ModelPage.MapPicture(page.Root + ModelKind.JointFolder, path, page.Words["joint.alt"],
                Markup.Of($"<figcaption>{page.Words["joint.caption"]}</figcaption>"))}");
    }

    private static double? Share(double squareKilometres, JointFacts joint) =>
        joint.ApplicableSquareKilometres > 0 ? squareKilometres / joint.ApplicableSquareKilometres : null;
}
