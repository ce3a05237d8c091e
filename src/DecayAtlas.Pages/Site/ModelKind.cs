namespace DecayAtlas.Pages.Site;

/// <summary>What a model predicts: it decides where its page and files lie, and which words speak of it.</summary>
/// <param name="Folder">Where its files lie, from the folder of the pages.</param>
/// <param name="Quantity">What it predicts, as alt texts name it.</param>
/// <param name="ErrorFormat">How its errors are written: S errs in hundredths, ln k in tenths.</param>
internal sealed record ModelKind(string Path, string Folder, string Quantity, string ErrorFormat)
{
    public static readonly ModelKind Rate = new("model.html", "model/", "ln k", "0.000"),
        Stabilisation = new("model-s.html", "model-s/", "S", "0.0000");

    public ModelKind Other => this == Rate ? Stabilisation : Rate;

    public ModelFolder? Of(PagesInputs inputs) => this == Rate ? inputs.Model : inputs.StabilisationModel;

    public string Key(string key) => this == Rate ? key : key + ".s";

    /// <summary>The typical error in words of its scale: a factor where logarithms were learnt.</summary>
    public string TypicalError(double rmse, Language words) => this == Rate ? "× " + words.Number(Math.Exp(rmse), "0.00")
        : "± " + words.Number(rmse, "0.000");
}
