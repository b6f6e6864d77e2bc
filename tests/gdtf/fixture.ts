// A GDTF file written by hand after DIN SPEC 15800: a bar of four RGBW cells with a dimmer, a shutter and a head that pans.

import { strToU8, zipSync } from 'fflate'

const cell = (attribute: string, offset: string) => `
  <DMXChannel DMXBreak="Overwrite" Offset="${offset}" Geometry="Cell" Highlight="255/1"
    InitialFunction="Cell_${attribute}.${attribute}.${attribute} 1">
    <LogicalChannel Attribute="${attribute}"><ChannelFunction Name="${attribute} 1" Attribute="${attribute}" DMXFrom="0/1" Default="0/1"/></LogicalChannel>
  </DMXChannel>`

export const description = `<?xml version="1.0" encoding="UTF-8"?>
<GDTF DataVersion="1.2">
  <FixtureType Name="Bar4" LongName="Bar of four &amp; a head" Manufacturer="Hedgerow Lamps" FixtureTypeID="6F1D2B6A-0C55-4D6B-9B0C-1E0F4A2C9D11">
    <Geometries>
      <Geometry Name="Body" Position="{1,0,0,0}{0,1,0,0}{0,0,1,0}{0,0,0,1}">
        <Axis Name="Yoke">
          <GeometryReference Name="Cell 1" Geometry="Cell"><Break DMXBreak="1" DMXOffset="1"/></GeometryReference>
          <GeometryReference Name="Cell 2" Geometry="Cell"><Break DMXBreak="1" DMXOffset="5"/></GeometryReference>
        </Axis>
      </Geometry>
      <Beam Name="Cell"/>
    </Geometries>
    <DMXModes>
      <DMXMode Name="Cells" Geometry="Body">
        <DMXChannels>
          <DMXChannel DMXBreak="1" Offset="1,2" Geometry="Yoke" InitialFunction="Yoke_Pan.Pan.Pan 1">
            <LogicalChannel Attribute="Pan"><ChannelFunction Name="Pan 1" Attribute="Pan" DMXFrom="0/2" Default="32768/2"/></LogicalChannel>
          </DMXChannel>
          <DMXChannel DMXBreak="1" Offset="3,4" Geometry="Body">
            <LogicalChannel Attribute="Dimmer"><ChannelFunction Name="Dimmer 1" Attribute="Dimmer" DMXFrom="0/2" Default="0/2"/></LogicalChannel>
          </DMXChannel>
          <DMXChannel DMXBreak="1" Offset="5" Geometry="Body" InitialFunction="Body_Shutter1.Shutter1.Open">
            <LogicalChannel Attribute="Shutter1">
              <ChannelFunction Name="Closed" Attribute="Shutter1" DMXFrom="0/1" Default="0/1"/>
              <ChannelFunction Name="Open" Attribute="Shutter1" DMXFrom="8/1" Default="15/1"/>
              <ChannelFunction Name="Strobe" Attribute="Shutter1Strobe" DMXFrom="16/1" Default="16/1"/>
            </LogicalChannel>
          </DMXChannel>
          <DMXChannel DMXBreak="1" Offset="None" Geometry="Body"><LogicalChannel Attribute="Color1"/></DMXChannel>
          ${cell('ColorAdd_R', '6')}${cell('ColorAdd_G', '7')}${cell('ColorAdd_B', '8')}${cell('ColorAdd_W', '9')}
        </DMXChannels>
      </DMXMode>
      <DMXMode Name="Three slots" Geometry="Cell">
        <DMXChannels>
          ${['R', 'G', 'B'].map((c, i) => cell(`ColorAdd_${c}`, `${i + 1}`)).join('')}
        </DMXChannels>
      </DMXMode>
    </DMXModes>
  </FixtureType>
</GDTF>`

/** An archive with this description, and the models and pictures that real files bring. */
export const archive = (text = description): Uint8Array =>
  zipSync({
    'description.xml': strToU8(text),
    'thumbnail.png': new Uint8Array(2000).fill(7),
    '../../escape.txt': strToU8('out of the archive'),
  })
