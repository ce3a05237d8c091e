using System.Text.Json;

namespace DecayAtlas.Prediction.Models;

/// <summary>The file that holds what predicts: ML.NET's archive, or a formula in JSON; the same model gives the same bytes.</summary>
/// <param name="Onnx">The same as an ONNX graph for other programs, where ML.NET made the model; it is written, never read.</param>
internal sealed record SavedPredictor(string FileName, byte[] Bytes, byte[]? Onnx = null)
{
    public const string OnnxFile = "model.onnx", MlFile = "model.zip", FormulaFile = "model.json";

    /// <summary>Begins the name of the file that holds the same model without noted records.</summary>
    public const string WithoutNotedPrefix = "without-noted-";

    public SavedPredictor AsWithoutNoted() => new(WithoutNotedPrefix + FileName, Bytes);

    public static SavedPredictor Of(Formula formula) => new(FormulaFile, JsonSerializer.SerializeToUtf8Bytes(formula, ModelJson.Options));

    /// <summary>Reads the file of a model's folder.</summary>
    /// <param name="prefix">Of its name.</param>
    /// <exception cref="PredictionException">It is missing or broken.</exception>
    public static (SavedPredictor Saved, RatePredictor Predictor) Read(string folder, string prefix = "")
    {
        string formula = Path.Combine(folder, prefix + FormulaFile), archive = Path.Combine(folder, prefix + MlFile);
        if (!File.Exists(formula) && !File.Exists(archive))
        {
            throw new PredictionException($"Model folder '{folder}' holds neither {prefix}{MlFile} nor {prefix}{FormulaFile}; give "
                + "the folder that training wrote.");
        }

        string path = File.Exists(formula) ? formula : archive;
        byte[] bytes = File.ReadAllBytes(path);
        try
        {
            return (new(Path.GetFileName(path), bytes), path == formula
                ? new FormulaPredictor(JsonSerializer.Deserialize<Formula>(bytes, ModelJson.Options)!)
                : RatePredictor.Of(MlModelFile.Read(bytes)));
        }
        catch (Exception e) when (e is not PredictionException)
        {
            // ML.NET answers a broken archive with whatever its innards trip over.
            throw new PredictionException($"Model file '{path}' cannot be read as a model ({Damage.Of(e)}); train the model again.", e);
        }
    }
}
