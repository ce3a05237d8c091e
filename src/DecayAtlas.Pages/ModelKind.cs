namespace DecayAtlas.Pages;

/// <summary>What a model predicts: it decides where its page and files lie, and which words speak of it.</summary>
/// <param name="Folder">Where its files lie, from the folder of the pages.</param>
/// <param name="MapFolder">Where the files of its map lie.</param>
/// <param name="Quantity">What it predicts, as alt texts name it.</param>
/// <param name="ErrorFormat">How its errors are written: S errs in hundredths, ln k in tenths.</param>
internal sealed record ModelKind(string Path, string Folder, string MapFolder, string Quantity, string ErrorFormat)
{
    public static readonly ModelKind Rate = new("model.html", "model/", "map/", "ln k", "0.000"),
        Stabilisation = new("model-s.html", "model-s/", "map-s/", "S", "0.0000");

    /// <summary>Where the files of the map of both together lie.</summary>
    public const string JointFolder = "map-joint/";

    public ModelKind Other => this == Rate ? Stabilisation : Rate;

    public ModelFolder? Of(PagesInputs inputs) => this == Rate ? inputs.Model : inputs.StabilisationModel;

    public (string? Folder, MapRaster? Raster) MapOf(PagesInputs inputs) => this == Rate ? (inputs.MapFolder, inputs.Raster)
        : (inputs.StabilisationMapFolder, inputs.StabilisationRaster);

    /// <summary>A predicted value as text.</summary>
    public string Value(double value, Language words) => this == Rate ? words.Rate(value) : words.Number(value, "0.000");

    public string Key(string key) => this == Rate ? key : key + ".s";

    /// <summary>The typical error in words of its scale: a factor where logarithms were learnt.</summary>
    public string TypicalError(double rmse, Language words) => this == Rate ? "× " + words.Number(Math.Exp(rmse), "0.00")
        : "± " + words.Number(rmse, "0.000");
}
