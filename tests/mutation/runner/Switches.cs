using System.Reflection;
using Mono.Cecil;
using Mono.Cecil.Cil;
using FieldAttributes = Mono.Cecil.FieldAttributes;

namespace Magrail.MutantRunner;

/// <summary>The switches of a mutated assembly: one number says which mutant is on, and an array remembers which were asked about.</summary>
internal sealed class Switches
{
    /// <summary>No mutant.</summary>
    public const int None = -1;

    /// <summary>The method that is asked whether a mutant is on.</summary>
    public const string Question = "IsActive";

    private const string Control = "MutantControl", Asked = "Asked", Active = "ActiveMutant";
    private const int Room = 100_000;

    private readonly FieldInfo active;

    public Switches(Assembly mutated)
    {
        Type control = mutated.GetTypes().Single(type => type.Name == Control);
        active = control.GetField(Active)!;
        Reached = new byte[Room];
        control.GetField(Asked)!.SetValue(null, Reached);
        On = None;
    }

    /// <summary>One at the number of each mutant whose place was come by.</summary>
    public byte[] Reached { get; }

    /// <summary>The mutant that is on.</summary>
    public int On
    {
        set => active.SetValue(null, value);
    }

    /// <summary>
    /// Makes the question "is this mutant on?" note that it was asked. The tool's own way of noting goes through a list behind a lock, and took minutes for each
    /// folder.
    /// </summary>
    public static void Prepare(string assembly)
    {
        using ModuleDefinition module = ModuleDefinition.ReadModule(new MemoryStream(File.ReadAllBytes(assembly)));
        TypeDefinition control = module.Types.Single(type => type.Name == Control);
        if (control.Fields.Any(field => field.Name == Asked))
        {
            return;
        }

        var asked = new FieldDefinition(Asked, FieldAttributes.Public | FieldAttributes.Static, new ArrayType(module.TypeSystem.Byte));
        control.Fields.Add(asked);
        MethodDefinition isActive = control.Methods.Single(method => method.Name == Question);
        isActive.Body = new Mono.Cecil.Cil.MethodBody(isActive);
        ILProcessor body = isActive.Body.GetILProcessor();
        body.Emit(OpCodes.Ldsfld, asked);
        body.Emit(OpCodes.Ldarg_0);
        body.Emit(OpCodes.Ldc_I4_1);
        body.Emit(OpCodes.Stelem_I1);
        body.Emit(OpCodes.Ldarg_0);
        body.Emit(OpCodes.Ldsfld, control.Fields.Single(field => field.Name == Active));
        body.Emit(OpCodes.Ceq);
        body.Emit(OpCodes.Ret);
        module.Write(assembly);
    }
}
