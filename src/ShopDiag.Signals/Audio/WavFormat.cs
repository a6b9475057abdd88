namespace ShopDiag.Signals.Audio;

/// <summary>How the samples of a WAV file are written.</summary>
/// <param name="SampleRate">Samples a second, <see cref="LowestRate"/> to <see cref="HighestRate"/>.</param>
/// <param name="Channels">1 or 2.</param>
/// <param name="Bits">Bits a sample: 8, 16, 24 or 32 for whole numbers, 32 or 64 for floating point.</param>
/// <param name="Floating">True for floating point.</param>
public sealed record WavFormat(int SampleRate, int Channels, int Bits, bool Floating)
{
    /// <summary>Fewest samples a second: telephone quality, which is enough to follow an engine.</summary>
    public const int LowestRate = 8000;

    /// <summary>Most samples a second.</summary>
    public const int HighestRate = 96000;

    /// <summary>Bytes of all channels of one moment.</summary>
    public int FrameBytes => Channels * Bits / 8;
}
