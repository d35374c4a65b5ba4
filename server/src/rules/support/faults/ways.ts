// Which way each setting goes to mend each fault. All of it common practice; the explanations of the faults say why.
import type { Fault } from '../../../model/generated/documents.ts'
import type { Way } from './assessment.ts'

const WAYS: Readonly<Record<string, Readonly<Partial<Record<Fault, Way>>>>> = {
  suction: {
    'bands-light': 'up',
    'bands-dark': 'down',
    'double-edges': 'up',
    'length-short': 'down',
    creases: 'down',
    skew: 'up',
    tears: 'down',
    'edge-lift': 'up',
    cockle: 'up',
    dimples: 'down',
    'head-touch': 'up',
  },
  'web.tension': {
    'bands-light': 'down',
    'length-short': 'down',
    'length-long': 'up',
    creases: 'up',
    slack: 'up',
    skew: 'up',
    sticking: 'down',
    tears: 'down',
    'head-touch': 'up',
  },
  'heat.before': { creases: 'down', 'edge-lift': 'down', 'overheated-web': 'down' },
  'heat.platen': {
    'bands-dark': 'up',
    grain: 'up',
    'length-short': 'down',
    'length-long': 'down',
    creases: 'down',
    sticking: 'down',
    tears: 'down',
    'edge-lift': 'down',
    dimples: 'down',
    'head-touch': 'down',
    'overheated-web': 'down',
  },
  'heat.after': { 'length-short': 'down', sticking: 'up', 'wet-at-winding': 'up', 'overheated-web': 'down' },
  'drying.pause': { 'bands-dark': 'up', sticking: 'up', cockle: 'up', 'wet-at-winding': 'up', 'overheated-web': 'down' },
  'drying.run-out': { sticking: 'up', 'wet-at-winding': 'up', 'overheated-web': 'down' },
  gap: { grain: 'down', 'double-edges': 'down', tears: 'up', 'edge-lift': 'up', cockle: 'up', 'head-touch': 'up' },
  'colour.ink-limit': {
    grain: 'down',
    sticking: 'down',
    'edge-lift': 'down',
    cockle: 'down',
    dimples: 'down',
    'wet-at-winding': 'down',
  },
}

/** Which way a setting goes to mend a fault; undefined where it is not a matter of more or less. */
export const wayOf = (setting: string, fault: Fault): Way | undefined => WAYS[setting]?.[fault]
